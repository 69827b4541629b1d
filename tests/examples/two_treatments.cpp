// Does cucumber extract bring up more seed than bean extract? Six plates of the one, five of the
// other: what is the difference, and may one claim it?
//
// Data: Crowder 1978 (Applied Statistics 27:34-37, Table 3), Orobanche variety O75. He too found
// the extracts to differ, after allowing for plates.
#include <cstdio>
#include <string>
#include <vector>

#include "stats/stand/claims.hpp"
#include "stats/trials/randomisation.hpp"

using namespace plumule::stats;

int main() {
  const std::vector<TrayCount> cucumber{{5, 6}, {53, 74}, {55, 72}, {32, 51}, {46, 79}, {10, 13}};
  const std::vector<TrayCount> bean{{10, 39}, {23, 62}, {23, 81}, {26, 51}, {17, 39}};

  // Each plate is a unit: nothing was treated in one jar. All stood in one place, stratum 0.
  std::vector<PlacedUnit> plates;
  for (const TrayCount& plate : cucumber) plates.push_back({1, 0, plate.up, plate.sown});
  for (const TrayCount& plate : bean) plates.push_back({0, 0, plate.up, plate.sown});

  // The difference of the two percentages by the model of the stand, seeds of one plate alike.
  const StandModel model(plates, 2, rho_from_beta(rho_b_towels_and_dishes));
  const StandContrast difference = contrast(model, 1, 0);
  std::printf("cucumber %.0f %%, bean %.0f %%\n", 100 * model.mean(1), 100 * model.mean(0));
  std::printf("difference: %+.0f points (95 %%: %+.0f to %+.0f)\n", 100 * difference.estimate,
              100 * difference.range.lower, 100 * difference.range.upper);
  std::printf("chance of more: %.4f; of 10 points more: %.3f\n", difference.p_better,
              difference.p_worth);

  // Deal the labels to the plates anew in all 462 ways: how often are they as far apart?
  std::vector<RandomisedUnit> units;
  for (const PlacedUnit& plate : plates)
    units.push_back({std::to_string(units.size()), 0, plate.treatment == 1,
                     static_cast<double>(plate.up) / static_cast<double>(plate.sown)});
  const Randomisation lots = randomisation_test(units);
  std::printf("labels dealt anew: p = %.4f (%.0f ways)\n", lots.p, lots.arrangements);

  // Of several differences shown together each claim would be held to the rest (Holm).
  const JudgedContrast judged = claim_together({&difference, 1}).front();
  std::printf("p of the claim: %.4f\n", judged.claim_p);
  std::printf("verdict: %s\n", judged.claim == StandClaim::more ? "more" : "no claim of more");
}

// It prints:
// cucumber 69 %, bean 37 %
// difference: +32 points (95 %: +18 to +45)
// chance of more: 0.9997; of 10 points more: 0.997
// labels dealt anew: p = 0.0022 (462 ways)
// p of the claim: 0.0006
// verdict: more
