// Each half-width as its header line states it.
#include "stats/mean_sequence.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace plumule::stats {
namespace {

double checked(std::int64_t n, double alpha, double tuning) {
  if (n < 1) throw std::domain_error("a half-width needs at least one outcome");
  if (!(alpha > 0 && alpha < 1)) throw std::domain_error("the error allowed must lie in (0, 1)");
  if (!(tuning > 0)) throw std::domain_error("the tuning must be above 0");
  return static_cast<double>(n);
}

}  // namespace

double normal_mixture_half_width(std::int64_t n, double alpha, double rho) {
  const double count = checked(n, alpha, rho), spread = count / 4 + rho;
  return std::sqrt(spread * std::log(spread / (rho * alpha * alpha))) / count;
}

double stitched_half_width(std::int64_t n, double alpha, double sigma) {
  const double count = checked(n, alpha, sigma);
  const double inner = std::log(std::log(2 * count)) + 0.72 * std::log(10.4 / alpha);
  return sigma * 1.7 * std::sqrt(inner / count);
}

double stitched_intrinsic_half_width(std::int64_t n, double alpha, double sigma) {
  const double count = checked(n, alpha, sigma), v = std::max(1.0, count * sigma * sigma);
  const double inner = std::log(std::log(2 * v)) + 0.72 * std::log(10.4 / alpha);
  return 1.7 * std::sqrt(v * inner) / count;
}

double hoeffding_half_width(std::int64_t n, double alpha) {
  return std::sqrt(std::log(2 / alpha) / (2 * checked(n, alpha, 1)));
}

}  // namespace plumule::stats
