// The points at which rho is integrated over its prior.
#pragma once

#include <cstdint>
#include <vector>

#include "stats/rho_prior.hpp"

namespace plumule::stats {

struct RhoNode {
  double x = 0;  // the integration variable, see below
  double rho = 0;
  double theta = 0;       // rho / (1 - rho): what the likelihood is written in
  double log_weight = 0;  // log of the prior mass the node stands for
};

// Trapezoid of that step in x = log s, s = -B log(1 - rho), which is Exp(1) under Beta(1, B), over
// the range (the prior mass below it goes to the first node). Gauss nodes in the prior's own cdf
// would leave errors of 1e-4: the integrand has a power singularity there, and a posterior of rho
// near 1 / n would be missed. A fixed rho is one node of weight 1.
struct RhoRange {
  double from = 0, to = 0;  // of x
};
// All that can matter: min(0, log(B / n_max)) - 7.5 to log 200 (less where theta would overflow: B
// under 2/3).
RhoRange whole_rho_range(const RhoPrior& prior, std::int64_t n_max);
std::vector<RhoNode> make_rho_nodes(const RhoPrior& prior, const RhoRange& range, double step);

}  // namespace plumule::stats
