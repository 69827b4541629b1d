// See the header.
#include "stats/inference/multiplicity.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

namespace plumule::stats {

std::vector<double> holm(std::span<const double> p) {
  if (!std::all_of(p.begin(), p.end(), [](double v) { return v >= 0 && v <= 1; }))
    throw std::domain_error("a p value must lie in [0, 1]");
  std::vector<std::size_t> order(p.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return p[a] < p[b]; });
  std::vector<double> adjusted(p.size());
  double running = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const double times = static_cast<double>(order.size() - i);
    running = std::max(running, std::min(1.0, times * p[order[i]]));
    adjusted[order[i]] = running;
  }
  return adjusted;
}

}  // namespace plumule::stats
