// Plain sums over a table of cosines: at some 50 points a fast transform would gain nothing.
#include "stats/numeric/chebyshev.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumule::stats {
namespace {

// cos(pi i / n) for i = 0 .. 2n - 1. The last one made is kept: callers ask for the same n again.
const std::vector<double>& cosines(std::size_t n) {
  thread_local std::size_t made_for = 0;
  thread_local std::vector<double> table;
  if (made_for != n) {
    table.resize(2 * n);
    for (std::size_t i = 0; i < 2 * n; ++i)
      table[i] = std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(n));
    made_for = n;
  }
  return table;
}

}  // namespace

std::vector<double> chebyshev_points(std::size_t n) {
  const auto& table = cosines(n);
  return {table.begin(), table.begin() + static_cast<std::ptrdiff_t>(n) + 1};
}

std::vector<double> chebyshev_series(std::span<const double> values) {
  const std::size_t n = values.size() - 1, half = n / 2;
  const auto& table = cosines(n);
  // Even terms see only the sum of mirrored values, odd ones only their difference.
  std::vector<double> even(half + 1), odd(half + 1), series(n + 1);
  for (std::size_t k = 0; k <= half; ++k) {
    const bool middle = 2 * k == n;
    const double ends = k == 0 ? 0.5 : 1;
    even[k] = ends * (middle ? values[k] : values[k] + values[n - k]);
    odd[k] = middle ? 0 : ends * (values[k] - values[n - k]);
  }
  for (std::size_t j = 0; j <= n; ++j) {
    const auto& folded = j % 2 == 0 ? even : odd;
    // Two sums at once: one alone would wait on every addition.
    double sum = 0, other = 0;
    std::size_t at = 0, next = j;
    const std::size_t stride = (2 * j) % (2 * n);
    for (std::size_t k = 0; k + 1 <= half; k += 2) {
      sum += folded[k] * table[at];
      other += folded[k + 1] * table[next];
      at += stride;
      if (at >= 2 * n) at -= 2 * n;
      next += stride;
      if (next >= 2 * n) next -= 2 * n;
    }
    if (half % 2 == 0) sum += folded[half] * table[at];
    series[j] = (sum + other) * (j == 0 || j == n ? 1 : 2) / static_cast<double>(n);
  }
  return series;
}

std::vector<double> integrated_series(std::span<const double> series) {
  const std::size_t n = series.size();
  std::vector<double> out(n + 1);
  double at_left = 0;
  for (std::size_t k = 1; k <= n; ++k) {
    const double before = (k == 1 ? 2 : 1) * series[k - 1];
    const double after = k + 1 < n ? series[k + 1] : 0;
    out[k] = (before - after) / (2 * static_cast<double>(k));
    at_left += k % 2 == 0 ? out[k] : -out[k];
  }
  out[0] = -at_left;
  return out;
}

double series_at(std::span<const double> series, double t) {
  double a = 0, b = 0;
  for (std::size_t k = series.size() - 1; k > 0; --k) {
    const double next = 2 * t * a - b + series[k];
    b = a;
    a = next;
  }
  return t * a - b + series[0];
}

double dot(std::span<const double> a, std::span<const double> b) {
  const std::size_t count = std::min(a.size(), b.size());
  double sums[4] = {0, 0, 0, 0};
  std::size_t i = 0;
  for (; i + 4 <= count; i += 4)
    for (std::size_t l = 0; l < 4; ++l) sums[l] += a[i + l] * b[i + l];
  for (; i < count; ++i) sums[0] += a[i] * b[i];
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

const std::vector<double>& clenshaw_curtis_weights(std::size_t n) {
  thread_local std::size_t made_for = 0;
  thread_local std::vector<double> weights;
  if (made_for == n) return weights;
  // The series of 2 / (1 - j^2) over even j, put back to the points.
  std::vector<double> integrals(n / 2 + 1);
  weights.resize(n + 1);
  for (std::size_t j = 0; j <= n / 2; ++j) {
    const double order = 2 * static_cast<double>(j);
    integrals[j] = (j == 0 || 2 * j == n ? 1 : 2) / (1 - order * order);
  }
  const auto& table = cosines(n);
  for (std::size_t k = 0; k <= n; ++k) {
    double sum = 0;
    std::size_t at = 0;
    for (const double integral : integrals) {
      sum += integral * table[at];
      at += 2 * k;
      if (at >= 2 * n) at -= 2 * n;
    }
    weights[k] = sum * (k == 0 || k == n ? 1 : 2) / static_cast<double>(n);
  }
  made_for = n;
  return weights;
}

}  // namespace plumule::stats
