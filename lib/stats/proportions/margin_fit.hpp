// The expected cells of a two-by-two table with both margins kept and a given odds ratio: what the
// score interval of the odds ratio and the Breslow-Day test both need.
#pragma once

#include "stats/proportions/two_proportions.hpp"

namespace plumule::stats {

struct MarginFit {
  double x1, f1, x2, f2;  // up and not up, first and second group

  // Inverse of the variance of x1 given the margins, large-sample.
  double information() const { return 1 / x1 + 1 / f1 + 1 / x2 + 1 / f2; }
};

// x1 f2 / (f1 x2) = odds_ratio (above 0 and finite) with the margins of `table`.
MarginFit fit_margins(const TwoByTwo& table, double odds_ratio);

}  // namespace plumule::stats
