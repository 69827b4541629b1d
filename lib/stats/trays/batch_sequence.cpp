// The mixture martingale by log Gamma, and its two crossings on either side of the fraction up.
#include "stats/trays/batch_sequence.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "stats/numeric/root.hpp"
#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {
namespace {

double log_beta(double a, double b) { return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b); }

void check(std::int64_t up, std::int64_t n, double a, double b) {
  if (n < 0 || up < 0 || up > n) throw std::domain_error("units up must be 0 to the units tested");
  if (!(a > 0 && b > 0 && std::isfinite(a) && std::isfinite(b)))
    throw std::domain_error("the mixing beta needs two finite shapes above 0");
}

void check_error(double alpha) {
  if (!(alpha > 0 && alpha < 1)) throw std::domain_error("the error allowed must lie in (0, 1)");
}

}  // namespace

double log_mixture_martingale(std::int64_t up, std::int64_t n, double a, double b, double p) {
  check(up, n, a, b);
  if (!(p >= 0 && p <= 1)) throw std::domain_error("a probability must lie in [0, 1]");
  const double x = static_cast<double>(up), y = static_cast<double>(n - up);
  double sum = log_beta(a + x, b + y) - log_beta(a, b);
  if (up > 0) sum -= x * std::log(p);
  if (up < n) sum -= y * std::log1p(-p);
  return sum;
}

BatchInterval mixture_sequence(std::int64_t up, std::int64_t n, double a, double b, double alpha,
                               double deflation) {
  check(up, n, a, b);
  check_error(alpha);
  if (!(deflation >= 1)) throw std::domain_error("a deflation must be 1 or more");
  BatchInterval made;
  made.deflation = deflation;
  if (n == 0) return made;
  const double bound = -deflation * std::log(alpha);
  const auto over = [&](double p) { return log_mixture_martingale(up, n, a, b, p) - bound; };
  const double fraction = static_cast<double>(up) / static_cast<double>(n);
  if (up > 0) made.lower = find_root(over, 0.0, fraction);
  if (up < n) made.upper = find_root(over, fraction, 1.0);
  return made;
}

BatchInterval batch_sequence(std::span<const TrayCount> batches, const RhoPrior& prior,
                             double level) {
  check_trays(batches);
  check_error(1 - level);
  std::int64_t up = 0, n = 0;
  for (const auto& batch : batches) {
    up += batch.up;
    n += batch.sown;
  }
  if (n == 0) return {};
  const double mean = static_cast<double>(n) / static_cast<double>(batches.size());
  return mixture_sequence(up, n, 0.5, 0.5, 1 - level, 1 + (mean - 1) * rho90(prior));
}

double probability_ever_excluded(double p, double alpha, std::int64_t n, double a, double b) {
  check_error(alpha);
  if (n < 0 || n > 10000)
    throw std::domain_error("the exact chance is reckoned for 0 to 10000 seeds");
  if (!(p > 0 && p < 1)) throw std::domain_error("a probability must lie in (0, 1)");
  const double bound = -std::log(alpha);
  // chance[s]: s up so far and p never excluded; what crosses is taken out.
  std::vector<double> chance(static_cast<std::size_t>(n) + 2, 0.0);
  chance[0] = 1;
  double crossed = 0;
  for (std::int64_t i = 1; i <= n; ++i) {
    for (std::int64_t s = i; s >= 0; --s) {
      const auto at = static_cast<std::size_t>(s);
      chance[at] = chance[at] * (1 - p) + (s > 0 ? chance[at - 1] * p : 0);
      if (chance[at] > 0 && log_mixture_martingale(s, i, a, b, p) >= bound) {
        crossed += chance[at];
        chance[at] = 0;
      }
    }
  }
  return crossed;
}

}  // namespace plumule::stats
