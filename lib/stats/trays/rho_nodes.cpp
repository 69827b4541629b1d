// See the header for why these points and no others.
#include "stats/trays/rho_nodes.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::stats {

RhoRange whole_rho_range(const RhoPrior& prior, std::int64_t n_max) {
  const double n = static_cast<double>(std::max<std::int64_t>(n_max, 1));
  const double knee = std::min(0.0, std::log(prior.b / n)) - 1.5;
  return {knee - 2.4, std::log(std::min(200.0, 300 * prior.b)), knee};
}

std::vector<RhoNode> make_rho_nodes(const RhoPrior& prior, const RhoRange& range, double step) {
  check_rho_prior(prior);
  if (prior.is_fixed()) return {{0, prior.fixed, prior.fixed / (1 - prior.fixed), 0}};
  const auto count = static_cast<std::size_t>(std::ceil((range.to - range.from) / step)) + 1;
  std::vector<RhoNode> nodes(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double x = range.from + step * static_cast<double>(i), steep = std::exp(range.knee - x);
    const double s = std::exp(x - steep);
    const double theta = std::expm1(s / prior.b);
    nodes[i] = {x, theta / (1 + theta), theta, std::log(step * (1 + steep)) + x - steep - s};
  }
  return nodes;
}

}  // namespace plumule::stats
