// One scan of the nodes, and a second, finer one where the first finds rho pinned down.
#include "stats/trays/live_nodes.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::stats {
namespace {

// Over the prior alone a step of 0.4 leaves some 1e-10.
constexpr double widest_step = 0.4, finest_step = 0.005, step_of_sd = 0.6;
constexpr double negligible_log_share = -24;  // e^-24 = 4e-11

struct Scan {
  LiveNodes live;
  double sd = 0;  // of x over the live shares
};

Scan scan(const RhoPrior& prior, std::span<const TrayLikelihood* const> arms, const RhoRange& range,
          double step) {
  const auto nodes = make_rho_nodes(prior, range, step);
  const std::size_t count = nodes.size();
  std::vector<double> height(count), share(count);
  Scan made;
  auto& live = made.live;
  live.arms.resize(arms.size());
  for (auto& arm : live.arms) arm.at.reserve(count);
  for (std::size_t r = 0; r < count; ++r) {
    // A node's share: prior mass, height at the reference, and about its width in each angle.
    height[r] = share[r] = nodes[r].log_weight;
    for (std::size_t a = 0; a < arms.size(); ++a) {
      const double rho = nodes[r].rho;
      arms[a]->prepare(nodes[r].theta, arms[a]->likely_fraction(rho), live.arms[a]);
      const double reference = live.arms[a].at.back().log_reference;
      height[r] += reference;
      share[r] += reference - 0.5 * std::log1p(arms[a]->effective_seeds(rho));
    }
  }
  const double most = *std::max_element(share.begin(), share.end());
  live.log_unit = -INFINITY;
  for (std::size_t r = 0; r < count; ++r)
    if (share[r] >= most + negligible_log_share) live.log_unit = std::max(live.log_unit, height[r]);
  double mass = 0, first = 0, second = 0;
  for (std::size_t r = 0; r < count; ++r) {
    if (share[r] < most + negligible_log_share) continue;
    for (auto& arm : live.arms) arm.at[live.nodes.size()] = arm.at[r];
    live.nodes.push_back(nodes[r]);
    live.weights.push_back(std::exp(height[r] - live.log_unit));
    const double part = std::exp(share[r] - most);
    mass += part;
    first += part * nodes[r].x;
    second += part * nodes[r].x * nodes[r].x;
  }
  for (auto& arm : live.arms) arm.at.resize(live.nodes.size());
  made.sd = std::sqrt(std::max(second / mass - first / mass * (first / mass), 0.0));
  return made;
}

}  // namespace

LiveNodes find_live_nodes(const RhoPrior& prior, std::span<const TrayLikelihood* const> arms) {
  std::int64_t largest = 1;
  for (const auto* arm : arms) largest = std::max(largest, arm->largest());
  RhoRange range = whole_rho_range(prior, largest);
  double step = widest_step;
  auto found = scan(prior, arms, range, step);
  // A step over a bell of that sd leaves 2 exp(-2 (pi sd / step)^2), 1e-23 at this share of it:
  // room for a posterior of x that is no bell.
  while (!prior.is_fixed() && step_of_sd * found.sd < step && step > finest_step) {
    const auto& nodes = found.live.nodes;
    if (nodes.front().x > range.from) range.from = nodes.front().x - step;
    range.to = std::min(range.to, nodes.back().x + step);
    step = std::max(std::min(step_of_sd * found.sd, 0.5 * step), 0.2 * step);
    found = scan(prior, arms, range, step);
  }
  return std::move(found.live);
}

}  // namespace plumule::stats
