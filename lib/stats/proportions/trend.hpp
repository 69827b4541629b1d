// Does the proportion rise or fall with the dose? Cochran-Armitage trend test. Seed level.
#pragma once

#include <optional>
#include <span>

#include "stats/proportions/stratified.hpp"

namespace plumule::stats {

struct DoseGroup {
  double dose;  // any scale: hours soaked, days chilled; only its spacing matters
  Tally tally;
  int stratum = 0;  // block, seed lot, ...: of a dose curve, each has a height of its own
};

struct TrendTest {
  double score;              // sum of dose * (x - n * pooled p)
  double z;                  // positive: more came up at the higher doses
  double p;                  // two-sided
  ChiSquaredTest groups;     // Pearson's test that all doses are alike
  ChiSquaredTest departure;  // what is left of it beside the trend; df 0 and p 1 with two doses
};

// Cochran 1954, Armitage 1955 (Biometrics 11:375-386), binomial variance (N, not N - 1). Groups may
// come in any order; those of one dose are pooled. None where all doses are equal, or nothing or
// everything came up. A dose that is not finite throws std::domain_error.
std::optional<TrendTest> cochran_armitage(std::span<const DoseGroup> groups);

}  // namespace plumule::stats
