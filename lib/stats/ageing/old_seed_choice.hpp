// What to do with a lot of old seed: the way of least expected loss, and whether a test first saves
// more than it costs.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "stats/ageing/season_loss.hpp"
#include "stats/trays/lot_belief.hpp"

namespace plumule::stats {

struct OldSeedQuestion {
  double standard = 0;  // the stand that is planned on, 0 < standard <= 1
  SeasonCosts costs;
  // How many times a usual sowing is left. None: not known, and then never more than twice as
  // thick. Under 1: all of it is sown.
  std::optional<double> times_left;
  std::optional<std::int64_t> seeds_to_spare;  // for a test; none: not known, and not in the way
  // What `replace` rests on: towels, one of them under a year old; or sowings under cover, on
  // different days. Rows, and age alone, never say it.
  bool towel_within_year = false;
  bool sown_twice_under_cover = false;
  bool tests_clash = false;  // then nothing is replaced before a third test
  bool irreplaceable = false;
};

struct Considered {
  Way way = Way::sow;
  double times = 1;  // as thick as usual
  double loss = 0;   // expected, in packets
};

struct OldSeedChoice {
  Considered best;              // without another test
  std::vector<Considered> all;  // that were open: sowing by thickness, then buying, then replacing
  std::int64_t test_seeds = 0;  // in a towel, first; 0: no test is worth it
  double test_saves = 0;        // what that is expected to save beyond its cost
  double p_meets = 0;           // P(p >= standard), and of half the standard
  double p_half = 0;
};

// Sowing 1, 1.5, 2, 3 and 4 times as thick as the stock allows; the same with a fresh packet at
// hand; `replace`, where it may be said: towels, one under a year old, with P(p >= standard) <=
// 0.10, or two sowings under cover with P(p >= standard / 2) <= 0.10; never while tests clash, and
// never of what can't be replaced, which is not bought either. A test of 10, 20 or 40 in a towel:
// its counts foretold from the points, the best way after each weighed by its chance (Raiffa &
// Schlaifer 1961, from memory); it is told where that saves more than the test and its seed cost.
// `lot`: the lot on the day of sowing, in rising order of p (AgedLot::points); between
// neighbours p is taken as spread evenly. Throws
// std::domain_error without points, for a standard or costs that cannot be, or a stock of 0 and
// less.
OldSeedChoice choose_for_old_seed(std::span<const LotPoint> lot, const OldSeedQuestion& question);

}  // namespace plumule::stats
