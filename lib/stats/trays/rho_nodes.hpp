// The points at which rho is integrated over its prior.
#pragma once

#include <cstdint>
#include <vector>

#include "stats/trays/rho_prior.hpp"

namespace plumule::stats {

struct RhoNode {
  double x = 0;  // the integration variable, see below
  double rho = 0;
  double theta = 0;       // rho / (1 - rho): what the likelihood is written in
  double log_weight = 0;  // log of the prior mass the node stands for
};

// Trapezoid of that step in x, where s = exp(x - exp(knee - x)) and s = -B log(1 - rho), which is
// Exp(1) under Beta(1, B): the double exponential rule for half a line (Takahasi & Mori 1974). Both
// tails die at once, and a posterior of rho near 1 / n is met as finely as one of the prior's size.
// (Gauss nodes in the prior's own cdf would leave errors of 1e-4.) A fixed rho is one node of
// weight 1.
struct RhoRange {
  double from = 0, to = 0;  // of x
  double knee = 0;          // below it s falls away
};
// All that can matter: the knee a little below log(B / n_max), or below 0 if that is less, and up
// to log 200 (less where theta would overflow: B under 2/3).
RhoRange whole_rho_range(const RhoPrior& prior, std::int64_t n_max);
std::vector<RhoNode> make_rho_nodes(const RhoPrior& prior, const RhoRange& range, double step);

}  // namespace plumule::stats
