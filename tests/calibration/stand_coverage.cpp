// Ranges of the stand by the model: coverage where trays vary as the prior says, and errors and
// coverage in layouts that are drawn at random.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"

namespace plumule::calibration {
namespace {

using stats::Random;

constexpr int shortly = 1000;
constexpr double most_wrong = 0.065, least_covered = 0.935, most_covered = 0.97;

// Layouts drawn anew for each trial: treatments, strata, units and sizes.
SupposedTrial any_layout(Random& random, bool unlike, double rho) {
  SupposedTrial made;
  const int treatments = 2 + static_cast<int>(random.below(4));
  const int strata = 1 + static_cast<int>(random.below(5));
  constexpr int sizes[] = {10, 20, 30, 50, 100, 200};
  const int usual = sizes[random.below(6)];
  std::vector<int> units(static_cast<std::size_t>(treatments));
  while (std::any_of(units.begin(), units.end(), [](int count) { return count < 2; })) {
    made.spots.clear();
    std::fill(units.begin(), units.end(), 0);
    for (int t = 0; t < treatments; ++t)
      for (int b = 0; b < strata; ++b)
        for (auto some = random.below(strata == 1 ? 8 : 4); some > 0; --some) {
          made.spots.push_back({t, b, unlike ? sizes[random.below(6)] : usual});
          ++units[static_cast<std::size_t>(t)];
        }
  }
  const double centre = logit_of(0.3 + 0.65 * random.unit()), spread = 1.5 * random.unit();
  for (int b = 0; b < strata; ++b)
    made.truth.stands.push_back(
        std::clamp(share_of(centre + spread * random.normal()), 0.02, 0.98));
  made.truth.shifts.assign(static_cast<std::size_t>(treatments), 0);
  made.truth.rho = rho;
  return made;
}

void random_layouts(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The stand: layouts drawn at random, when nothing differs");
  report.say("Anew for each trial: two to five treatments, one to five strata, 0 to 7 units of a");
  report.say("treatment in one (0 to 3 where there are several), stands of strata spread by up to");
  report.say("1.5 of the logit about 0.30 to 0.95. Nothing was chosen by these.");
  report.head({"sizes", "rho", "any wrong claim", "coverage", "own ranges"});
  for (const bool unlike : {false, true})
    for (const double rho : effort.full ? std::vector{0.0, 0.03, 0.1, -1.0} : std::vector{-1.0}) {
      const auto judged = judge(
          effort, [&](Random& random) { return any_layout(random, unlike, rho); }, ++seed,
          {&Judged::false_claims, &Judged::covered}, shortly);
      const std::string name = unlike ? "10 to 200, unlike" : "10 to 200, alike";
      report.row({name, rho_name(rho), Report::percent(judged.false_claims.share()),
                  Report::percent(judged.covered.share()), Report::percent(judged.ranges.share())});
      report.bar("wrong claims on the stand, random layouts, " + name + ", rho " + rho_name(rho),
                 judged.false_claims.share(), 0,
                 most_wrong + effort.rate_room(most_wrong, shortly));
      if (rho < 0)
        report.bar("coverage of the difference, random layouts, " + name, judged.covered.share(),
                   least_covered - effort.rate_room(least_covered, shortly), 1);
    }
}

struct Layout {
  std::string name;
  std::vector<Spot> spots;
  int strata, df;
  bool even;  // of 25 seeds or more a tray
};

std::vector<Layout> layouts_of(const Effort& effort) {
  std::vector<Layout> made;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6, 8, 12} : std::vector{6})
    for (const int n : effort.full ? std::vector{10, 25, 50, 100} : std::vector{25})
      made.push_back({std::to_string(k) + " and " + std::to_string(k) + " of " + std::to_string(n),
                      spots_of({{k, k}}, n), 1, 2 * k - 2, n >= 25});
  if (!effort.full) return made;
  made.push_back({"8 pairs of 50", pairs_of(8, 50), 8, 7, true});
  made.push_back({"12 pairs of 50", pairs_of(12, 50), 12, 11, true});
  made.push_back({"4+1 / 0+4 of 50", spots_of({{4, 1}, {0, 4}}, 50), 2, 6, false});
  made.push_back({"10, 20, 50, 200 of both", spots_of_sizes(2, {10, 20, 50, 200}), 1, 6, false});
  return made;
}

}  // namespace

void stand_coverage(Report& report, const Effort& effort) {
  std::uint64_t seed = 15'000;
  random_layouts(report, effort, seed);

  report.heading("The stand: coverage where trays vary as the prior says");
  report.say("Stand of the control uniform on 0.10 to 0.97, the other's spread by 0.7 (logit)");
  report.say("about it, both anew for each trial; rho from Beta(1, 24). Bar: 93.5, and at most 97");
  report.say("for even layouts of 25 seeds or more a tray with 10 degrees of freedom or more.");
  report.head({"layout", "df", "coverage", "own ranges"});
  for (const auto& layout : layouts_of(effort)) {
    const auto make = [&](Random& random) {
      SupposedTrial trial = alike(layout.spots, {}, -1);
      const double base = logit_of(0.1 + 0.87 * random.unit());
      for (int b = 0; b < layout.strata; ++b)
        trial.truth.stands.push_back(
            layout.strata == 1 ? share_of(base)
                               : std::clamp(share_of(base + 0.5 * random.normal()), 0.05, 0.98));
      trial.truth.shifts[1] = 0.7 * random.normal();
      return trial;
    };
    const auto judged = judge(effort, make, ++seed, {&Judged::covered, &Judged::ranges}, shortly);
    report.row({layout.name, std::to_string(layout.df), Report::percent(judged.covered.share()),
                Report::percent(judged.ranges.share())});
    report.bar("coverage of the difference, " + layout.name, judged.covered.share(),
               least_covered - effort.rate_room(least_covered, shortly),
               layout.even && layout.df >= 10
                   ? most_covered + effort.rate_room(most_covered, shortly)
                   : 1);
  }
}

}  // namespace plumule::calibration
