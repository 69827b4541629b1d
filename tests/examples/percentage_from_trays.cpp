// Five plates of one lot were tested, and 99 of 272 seeds came up. What is the lot's percentage,
// and how sure may one be of it?
//
// Data: Crowder 1978 (Applied Statistics 27:34-37, Table 3), seed of Orobanche variety O75 on bean
// extract. His plates differ by more than chance, as trays mostly do.
#include <cstdio>
#include <vector>

#include "stats/proportions/proportion.hpp"
#include "stats/proportions/replicates.hpp"
#include "stats/trays/tray_aware.hpp"

using namespace plumule::stats;

namespace {

void show(const char* what, const Interval& interval) {
  std::printf("%-28s %4.1f to %4.1f %%\n", what, 100 * interval.lower, 100 * interval.upper);
}

}  // namespace

int main() {
  const std::vector<TrayCount> plates{{10, 39}, {23, 62}, {23, 81}, {26, 51}, {17, 39}};

  // If every seed stood for itself: Wilson's interval of 99 of 272.
  std::printf("99 of 272: %.1f %%\n", 100.0 * 99 / 272);
  show("seeds independent (Wilson)", wilson({99, 272}));

  // Do the plates agree as samples of one percentage would?
  std::vector<Tally> tallies;
  for (const TrayCount& plate : plates) tallies.emplace_back(plate.up, plate.sown);
  std::printf("plates agree by chance: p = %.2f\n", heterogeneity(tallies)->p);

  // Seeds of one plate resemble each other (correlation rho). What the dishes of public data show
  // beforehand is rho ~ Beta(1, 49); the interval then knows that there are five plates, not 272.
  const TrayAwarePosterior posterior(plates, rho_from_beta(rho_b_towels_and_dishes));
  show("seeds of a plate alike", posterior.interval());

  // The same posterior answers any question of the percentage itself.
  std::printf("chance of 40 %% or more: %.2f\n", posterior.probability_at_least(0.40));
}

// It prints:
// 99 of 272: 36.4 %
// seeds independent (Wilson)   30.9 to 42.3 %
// plates agree by chance: p = 0.04
// seeds of a plate alike       28.7 to 45.8 %
// chance of 40 % or more: 0.23
