// How far replicates of one test, or two tests of one lot, may lie apart before a laboratory tests
// again (7 CFR 201.55 and 201.63).
#pragma once

#include <optional>

namespace plumule::crops {

// The largest range, in percent, between 2 or 4 replicates of 100 seeds whose mean is
// `mean_percent` (rounded here to the nearest whole percent); equal to it is still accepted.
// Nothing where the table has no figure: means of 0, 1 and 100, other numbers of replicates, and 98
// and 99 with two. Throws std::domain_error outside 0 to 100.
std::optional<int> replicate_range(double mean_percent, int replicates);

// The largest range in seeds, at 2.5 %, for 2, 3, 4, 6 or 8 replicates of n seeds (10, 20, 25, 50
// or 100) and a mean germination: computed from exact binomials, for layouts the regulation has no
// table for. Taken at the tabulated mean nearest to it. Nothing for a layout that was not computed.
struct Small_range {
  int seeds = 0;
  double chance = 0;  // of a wider range, if the replicates differ by chance alone
};
std::optional<Small_range> small_replicate_range(double mean_percent, int replicates, int seeds);

// The most, in percent, by which two tests of 400 seeds (or test and label) may differ, by their
// mean in percent (201.63). Throws std::domain_error outside 0 to 100.
int tolerance_between_tests(double mean_percent);

}  // namespace plumule::crops
