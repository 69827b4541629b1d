#include "stats/trays/fresh_sowing.hpp"

#include <cmath>
#include <stdexcept>

#include "stats/trays/tray_aware.hpp"

namespace plumule::stats {

std::vector<double> fresh_sowing_chances(std::span<const TrayCount> trays, const RhoPrior& prior,
                                         std::int64_t n) {
  if (n < 1 || n > 1000) throw std::domain_error("a fresh sowing needs 1 to 1000 seeds");
  const double before = TrayAwarePosterior(trays, prior).log_evidence();
  std::vector<TrayCount> with(trays.begin(), trays.end());
  with.push_back({0, n});
  std::vector<double> chances;
  double log_ways = 0;  // of choosing x of n
  double sum = 0;
  for (std::int64_t x = 0; x <= n; ++x) {
    if (x > 0) log_ways += std::log(static_cast<double>(n - x + 1) / static_cast<double>(x));
    with.back().up = x;
    chances.push_back(std::exp(log_ways + TrayAwarePosterior(with, prior).log_evidence() - before));
    sum += chances.back();
  }
  for (double& chance : chances) chance /= sum;
  return chances;
}

}  // namespace plumule::stats
