// The largest probability of a set of two-group tables over the common proportion: the heart of the
// unconditional exact tests.
#pragma once

#include <vector>

namespace plumule::stats {

// Tables (x1, from) to (x1, to).
struct TableRun {
  int x1, from, to;
};

struct NuisanceMaximum {
  double probability;
  double proportion;  // where it is reached
};

// Over 0 <= p <= 1 of P((X1, X2) in the runs), X_i ~ Binomial(n_i, p). Scanned in the arcsine scale
// at 16 steps to a binomial standard deviation; every local maximum within 2 % of the best is
// refined.
NuisanceMaximum maximise_over_nuisance(int n1, int n2, const std::vector<TableRun>& runs);

}  // namespace plumule::stats
