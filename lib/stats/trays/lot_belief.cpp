// Nodes of rho times Gauss-Chebyshev points of p.
#include "stats/trays/lot_belief.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "stats/trays/live_nodes.hpp"

namespace plumule::stats {
namespace {

// The n-point rule is exact to degree 2 n - 1. Of many seeds fewer points do: at 4 sqrt(seeds) they
// lie 0.8 standard deviations of the narrowest posterior apart, and the sum is good to e^-32.
std::size_t points_for(double seeds) {
  constexpr double most = 4096;
  return static_cast<std::size_t>(std::min({seeds / 2 + 1, 4 * std::sqrt(seeds) + 16, most}));
}

}  // namespace

std::vector<LotPoint> lot_belief(std::span<const TrayCount> trays, const RhoPrior& prior,
                                 std::int64_t fresh) {
  if (fresh < 1 || fresh > 1'000'000'000)
    throw std::domain_error("what is foretold needs 1 to 1000000000 seeds");
  const TrayLikelihood likelihood(trays);
  const std::array<const TrayLikelihood*, 1> arms{&likelihood};
  const LiveNodes live = find_live_nodes(prior, arms);
  const std::size_t count = points_for(static_cast<double>(likelihood.sown() + fresh));
  std::vector<double> p(count), q(count), height(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double angle =
        (static_cast<double>(i) + 0.5) * std::numbers::pi / 2 / static_cast<double>(count);
    p[i] = std::sin(angle) * std::sin(angle);
    q[i] = std::cos(angle) * std::cos(angle);
  }
  std::vector<LotPoint> points;
  double sum = 0;
  for (std::size_t r = 0; r < live.nodes.size(); ++r) {
    likelihood.relative(live.arms[0], r, p, q, height);
    for (std::size_t i = 0; i < count; ++i) {
      points.push_back({p[i], live.nodes[r].rho, live.weights[r] * height[i]});
      sum += points.back().weight;
    }
  }
  std::erase_if(points, [&](const LotPoint& point) { return point.weight < 1e-13 * sum; });
  for (auto& point : points) point.weight /= sum;
  return points;
}

}  // namespace plumule::stats
