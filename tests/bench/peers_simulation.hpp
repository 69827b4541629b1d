// Simulated two-treatment trials with two fits each, as peers.R simulates them.
#pragma once

#include "stats/numeric/random.hpp"

namespace plumule::peers {

// Shares: of trials where Fisher's p < 0.05, of fits whose 95 % interval held the true log median,
// of trials whose Newcombe interval held the true difference (seeds alike within trays: too few).
struct Simulated {
  double rejected = 0;
  double covered = 0;
  double newcombe_covered = 0;
};
Simulated simulate(int trials, stats::Random random);

}  // namespace plumule::peers
