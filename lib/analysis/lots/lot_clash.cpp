// A walk over the tests by day, one side until one clashes.
#include "analysis/lots/lot_clash.hpp"

#include <algorithm>
#include <utility>

#include "analysis/lots/lot_ageing.hpp"
#include "analysis/lots/lot_tests.hpp"
#include "stats/ageing/aged_lot.hpp"
#include "stats/trays/fresh_sowing.hpp"

namespace plumule::analysis {

namespace {

constexpr double clash_below = 0.025;

using Places = std::vector<std::size_t>;  // of sowings among the lot's tests

void join(Places& side, const Places& test) { side.insert(side.end(), test.begin(), test.end()); }

double unaged_mid_p(std::span<const stats::TrayCount> older,
                    std::span<const stats::TrayCount> newer, const stats::RhoPrior& prior) {
  std::int64_t seeds = 0;
  for (const auto& tray : newer) seeds += tray.sown;
  return stats::fresh_test_mid_p(stats::lot_belief(older, prior, seeds), newer);
}

class Walk {
 public:
  Walk(const LotTests& tests, const stats::AgeingRate& rate, const stats::RhoPrior& prior)
      : tests_(tests), rate_(rate), prior_(prior) {
    for (const auto& test : tests_by_day()) take(test);
  }

  // Set apart from those that agree, once and for all.
  const Places& odd() const { return odd_; }
  // While it is open: the sides in the order they came up, and last what settles nothing yet.
  std::vector<Places> open() const {
    auto sides = sides_;
    if (!since_.empty()) sides.push_back(since_);
    return sides;
  }

  ClashSide side(const Places& places) const {
    ClashSide made;
    for (const auto place : places) {
      const auto& test = tests_.tests[place];
      made.tests.push_back(test.name);
      made.counted.push_back({*test.emerged, *test.seeds});
      made.alive.push_back({*test.emerged + test.hard, *test.seeds});
    }
    return made;
  }
  // The smaller tail of the newer under the older; where there is hard seed, the larger of what
  // comes up and what is alive.
  double agreement(const Places& older, const Places& newer) const {
    const double up = mid_p(older, newer, false);
    return tests_.hard > 0 ? std::max(up, mid_p(older, newer, true)) : up;
  }

 private:
  double mid_p(const Places& older, const Places& newer, bool hard_too) const {
    const auto late = side(newer);
    const auto& fresh = hard_too ? late.alive : late.counted;
    if (tests_.from_soil) return unaged_mid_p(side(older).counted, fresh, prior_);
    std::vector<stats::AgedTest> before;
    for (const auto place : older) {
      const auto& test = tests_.tests[place];
      before.push_back({day_number(test.sown),
                        stats::Ground::towel,
                        {*test.emerged + (hard_too ? test.hard : 0), *test.seeds}});
    }
    const auto lot = stats::AgedLot::tested(before, rate_, prior_);
    return stats::fresh_test_mid_p(lot.points(day_number(tests_.tests[newer.back()].sown)), fresh);
  }

  std::vector<Places> tests_by_day() const {
    std::vector<Places> days;
    std::optional<records::Date> day;
    for (std::size_t i = 0; i < tests_.tests.size(); ++i) {
      const auto& test = tests_.tests[i];
      const bool counts = test.use == TestUse::counted || test.use == TestUse::older;
      if (!counts || test.running) continue;
      if (day != test.sown) days.emplace_back();
      days.back().push_back(i);
      day = test.sown;
    }
    return days;
  }

  bool agree(const Places& older, const Places& newer) const {
    return agreement(older, newer) >= clash_below;
  }

  void take(const Places& test) {
    if (standing_.empty() || (sides_.empty() && agree(standing_, test)))
      join(standing_, test);
    else if (sides_.empty())
      sides_ = {standing_, test};
    else
      take_later(test);
  }

  void take_later(const Places& test) {
    join(since_, test);
    Places agreed;
    for (std::size_t s = 0; s < sides_.size(); ++s)
      if (agree(sides_[s], since_)) agreed.push_back(s);
    if (agreed.size() == 1) {
      for (std::size_t s = 0; s < sides_.size(); ++s)
        if (s != agreed.front()) join(odd_, sides_[s]);
      standing_ = sides_[agreed.front()];
      join(standing_, since_);
      sides_.clear();
      since_.clear();
    } else if (agreed.empty()) {
      sides_.push_back(std::exchange(since_, {}));
    }
  }

  const LotTests& tests_;
  const stats::AgeingRate& rate_;
  const stats::RhoPrior& prior_;
  Places standing_, odd_, since_;
  std::vector<Places> sides_;  // none while the tests agree
};

}  // namespace

const ClashSide& LotClash::lower() const {
  const ClashSide* least = *newer.stand.fraction < *older.stand.fraction ? &newer : &older;
  for (const auto& side : later)
    if (*side.stand.fraction < *least->stand.fraction) least = &side;
  return *least;
}

std::optional<LotClash> set_clashing_apart(LotTests& tests, const stats::AgeingRate& rate,
                                           const stats::RhoPrior& prior, double level) {
  const Walk walk(tests, rate, prior);
  const auto open = walk.open();
  std::vector<ClashSide> sides;
  for (const auto& places : open) {
    sides.push_back(walk.side(places));
    sides.back().stand = stand_of(sides.back().counted, prior, level);
    add_other_intervals(sides.back().stand, sides.back().counted);
  }
  std::optional<LotClash> clash;
  if (!sides.empty()) {
    clash = LotClash{sides[0], sides[1], {}, walk.agreement(open[0], open[1])};
    clash->later.assign(sides.begin() + 2, sides.end());
  }
  for (const auto place : walk.odd()) tests.tests[place].use = TestUse::clashes;
  for (const auto& places : open)
    for (const auto place : places) tests.tests[place].use = TestUse::clashes;
  take_counted(tests);
  return clash;
}

double chance_to_settle(const LotClash& clash, const stats::RhoPrior& prior, std::int64_t n) {
  const auto older = stats::fresh_sowing_chances(clash.older.counted, prior, n);
  const auto newer = stats::fresh_sowing_chances(clash.newer.counted, prior, n);
  double settles = 0;
  for (std::int64_t x = 0; x <= n; ++x) {
    const bool with_older = stats::mid_p(older, x) >= clash_below;
    const bool with_newer = stats::mid_p(newer, x) >= clash_below;
    const auto at = static_cast<std::size_t>(x);
    if (with_older != with_newer) settles += (older[at] + newer[at]) / 2;
  }
  return settles;
}

}  // namespace plumule::analysis
