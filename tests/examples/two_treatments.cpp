// Does cucumber extract bring up more seed than bean extract? Five plates of the one, six of the
// other: what is the difference, and may one claim it?
//
// Data: Crowder 1978 (Applied Statistics 27:34-37, Table 3), Orobanche variety O75. He too found
// the extracts to differ, after allowing for plates.
#include <cstdio>
#include <string>
#include <vector>

#include "stats/trays/tray_aware_difference.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/randomisation.hpp"

using namespace plumule::stats;

int main() {
  const std::vector<TrayCount> cucumber{{5, 6}, {53, 74}, {55, 72}, {32, 51}, {46, 79}, {10, 13}};
  const std::vector<TrayCount> bean{{10, 39}, {23, 62}, {23, 81}, {26, 51}, {17, 39}};
  const RhoPrior prior = rho_from_beta(rho_b_towels_and_dishes);

  // The difference of the two percentages, seeds of one plate alike.
  const TrayAwareDifference posterior(cucumber, bean, prior);
  const Interval difference = posterior.difference(0.95);
  std::printf("difference: %+.0f points (95 %%: %+.0f to %+.0f)\n",
              100 * posterior.mean_difference(), 100 * difference.lower, 100 * difference.upper);
  std::printf("chance that it is 10 points or more: %.3f\n", posterior.probability_better_by(0.10));

  // Deal the labels to the plates anew in all 462 ways: how often are they as far apart?
  std::vector<RandomisedUnit> units;
  std::vector<StandUnit> first, second;  // each plate is a unit: nothing was treated in one jar
  for (const TrayCount& plate : cucumber) {
    first.push_back({{plate}});
    units.push_back({"c" + std::to_string(first.size()), 0, true, unit_fraction(first.back())});
  }
  for (const TrayCount& plate : bean) {
    second.push_back({{plate}});
    units.push_back({"b" + std::to_string(second.size()), 0, false, unit_fraction(second.back())});
  }
  const Randomisation lots = randomisation_test(units);
  std::printf("labels dealt anew: p = %.4f (%.0f ways)\n", lots.p, lots.arrangements);

  // A claim needs the posterior and the t of the plates both; the rule was fixed, and its errors
  // counted, before anyone looked.
  const StandEvidence evidence = stand_evidence(first, second, posterior);
  std::printf("chance of more: %.4f; t on plates: p = %.4f\n", evidence.chances->better,
              *evidence.t_p());
  const StandClaim claim = stand_claim(evidence);
  std::printf("verdict: %s\n", claim == StandClaim::more ? "more" : "no claim of more");
}

// It prints:
// difference: +32 points (95 %: +20 to +43)
// chance that it is 10 points or more: 0.999
// labels dealt anew: p = 0.0022 (462 ways)
// chance of more: 1.0000; t on plates: p = 0.0003
// verdict: more
