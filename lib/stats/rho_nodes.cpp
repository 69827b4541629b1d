// See the header for why these points and no others.
#include "stats/rho_nodes.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::stats {

RhoRange whole_rho_range(const RhoPrior& prior, std::int64_t n_max) {
  const double n = static_cast<double>(std::max<std::int64_t>(n_max, 1));
  return {std::min(0.0, std::log(prior.b / n)) - 7.5, std::log(std::min(200.0, 300 * prior.b))};
}

std::vector<RhoNode> make_rho_nodes(const RhoPrior& prior, const RhoRange& range, double step) {
  check_rho_prior(prior);
  if (prior.is_fixed()) return {{0, prior.fixed, prior.fixed / (1 - prior.fixed), 0}};
  const auto count = static_cast<std::size_t>(std::ceil((range.to - range.from) / step)) + 1;
  std::vector<RhoNode> nodes(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double x = range.from + step * static_cast<double>(i), s = std::exp(x);
    // Below the range the likelihood no longer changes: a geometric series of weights e^x.
    const double below = i == 0 ? -std::log(-std::expm1(-step)) : 0;
    nodes[i] = {x, -std::expm1(-s / prior.b), std::expm1(s / prior.b),
                std::log(step) + x - s + below};
  }
  return nodes;
}

}  // namespace plumule::stats
