// See the header.
#include "stats/numeric/count_probability.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace plumule::stats {
namespace {

// log n! less Stirling's leading terms.
double stirling_error(double n) {
  static const std::array<double, 16> small = [] {
    std::array<double, 16> table{};
    double log_factorial = 0;
    for (std::size_t i = 1; i < table.size(); ++i) {
      const double k = static_cast<double>(i);
      log_factorial += std::log(k);
      table[i] = log_factorial - (k + 0.5) * std::log(k) + k - 0.5 * std::log(2 * std::numbers::pi);
    }
    return table;
  }();
  if (n < 16) return small[static_cast<std::size_t>(n)];
  const double s = n * n;
  return (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - (1.0 / 1680 - 1.0 / 1188 / s) / s) / s) / s) / n;
}

// x log(x / m) + m - x, without loss where x is near m.
double deviance_part(double x, double m) {
  if (std::fabs(x - m) < 0.1 * (x + m)) {
    const double v = (x - m) / (x + m);
    double sum = (x - m) * v, term = 2 * x * v;
    for (int j = 1; j < 1000; ++j) {
      term *= v * v;
      const double next = sum + term / (2 * j + 1);
      if (next == sum) break;
      sum = next;
    }
    return sum;
  }
  return x * std::log(x / m) + m - x;
}

// q is given beside p so that neither is a difference.
double binomial(double x, double n, double p, double q) {
  if (x < 0 || x > n) return 0;
  if (p == 0) return x == 0 ? 1 : 0;
  if (q == 0) return x == n ? 1 : 0;
  if (x == 0) return std::exp(p < 0.1 ? n * std::log1p(-p) : n * std::log(q));
  if (x == n) return std::exp(q < 0.1 ? n * std::log1p(-q) : n * std::log(p));
  const double log_part = stirling_error(n) - stirling_error(x) - stirling_error(n - x) -
                          deviance_part(x, n * p) - deviance_part(n - x, n * q);
  return std::exp(log_part) * std::sqrt(n / (2 * std::numbers::pi * x * (n - x)));
}

}  // namespace

double binomial_probability(double x, double n, double p) { return binomial(x, n, p, 1 - p); }

double hypergeometric_probability(double x, double total, double marked, double drawn) {
  if (x < std::max(0.0, drawn - (total - marked)) || x > std::min(marked, drawn)) return 0;
  if (drawn == 0 || drawn == total) return 1;  // x can only be 0, or all of the marked
  const double p = drawn / total, q = (total - drawn) / total;
  return binomial(x, marked, p, q) * binomial(drawn - x, total - marked, p, q) /
         binomial(drawn, total, p, q);
}

}  // namespace plumule::stats
