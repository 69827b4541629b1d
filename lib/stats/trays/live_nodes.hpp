// The nodes of rho that the data have not ruled out, with the likelihood made ready at each.
#pragma once

#include <span>
#include <vector>

#include "stats/trays/rho_nodes.hpp"
#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {

struct LiveNodes {
  std::vector<RhoNode> nodes;
  std::vector<double> weights;  // prior mass times the likelihoods at their references; largest 1
  double log_unit = 0;          // log of what weight 1 stands for
  // For each treatment: its likelihood ready at every node, taken as 1 at the p likely for that
  // rho.
  std::vector<TrayLikelihood::Ready> arms;
};

// For one treatment, or several that share rho. Nodes holding under 1e-10 of the largest share
// are dropped; where the data pin rho down the step is shortened until the trapezoid is exact to
// 1e-8.
LiveNodes find_live_nodes(const RhoPrior& prior, std::span<const TrayLikelihood* const> arms);

}  // namespace plumule::stats
