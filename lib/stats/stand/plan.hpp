// How many trays, or blocks, would tell by the model of the stand; and what a trial that is only
// supposed would give.
#pragma once

#include <cstdint>
#include <optional>

#include "stats/stand/model.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::stats {

// The share of verdicts in fresh trials closed as planned; adds up to 1.
struct StandOutlook {
  double more = 0, fewer = 0, neither = 0, too_small = 0;
  double told() const { return more + fewer + neither; }
};

// A trial supposed: trays of `seeds` each of two treatments, `trays` of either, all in one place or
// (`pairs`) one of either in each of so many blocks.
struct SupposedStand {
  double first = 0, second = 0;  // stands, 0 to 1
  double rho = 0;                // [0, 1)
  int trays = 0;                 // >= 1
  std::int64_t seeds = 0;        // 1 to 1e9
  bool pairs = false;
  int differences = 1;  // that are shown together, >= 1: each is held to 5 % / this
};

// By whole trials, drawn and judged one by one as claim_together judges: some 0.06 ms each. Blocks
// are taken as alike. Throws std::domain_error for what cannot be.
StandOutlook outlook(const SupposedStand& supposed, const RhoPrior& prior, double d, int trials,
                     std::uint64_t seed);

// The same some thousand times as fast, for choosing between designs: the angles' difference and
// sum are taken as normal and Pearson's chi-squared as f times a chi-squared on df, and what would
// be told is integrated over them; trials are judged by the model's two weighings, the second with
// the quasi-likelihood in the beta-binomial's place. tests/calibration holds it against outlook():
// the share told differs by 1 to 4 points on average, and by up to 13 in a cell. For planning only,
// never for a verdict.
StandOutlook quick_outlook(const SupposedStand& supposed, const RhoPrior& prior, double d);

struct TraysNeeded {
  std::optional<int> trays;  // of either treatment, or `pairs`: blocks; null: most_tried is too few
  bool pairs = false;
  double chance = 0;  // of being told with so many (with most_tried, where it is null)
  int most_tried = 0;
  double first = 0, second = 0, rho = 0;  // what was supposed
  std::int64_t seeds = 0;                 // a tray: the median of the trial's
};

// For a difference of this model that nothing could be told of: the fewest of 2, 3, 4, 5, 6, 8, 10,
// 12, 16, 20, 24, 32, 48 trays (or blocks of one tray of either, where the treatments lie in two
// strata or more) with which by quick_outlook() more, fewer or neither is told with
// `chance_wanted`. Supposed: the model's means, and rho by trays at large. Where the stands differ
// by about half of d hardly any is. Throws as contrast().
TraysNeeded trays_needed(const StandModel& model, int first, int second, const RhoPrior& prior,
                         double d = 0.10, int differences = 1, double chance_wanted = 0.8);

}  // namespace plumule::stats
