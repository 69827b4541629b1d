// See the header.
#include "stats/numeric/random.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "stats/numeric/count_probability.hpp"

namespace plumule::stats {

Random::Random(std::uint64_t seed) : state_{} {
  for (std::uint64_t& word : state_) {  // splitmix64
    std::uint64_t z = seed += 0x9e3779b97f4a7c15U;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    word = z ^ (z >> 31);
  }
}

double Random::normal() {
  for (;;) {
    const double a = 2 * open_unit() - 1, b = 2 * open_unit() - 1, s = a * a + b * b;
    if (s > 0 && s < 1) return a * std::sqrt(-2 * std::log(s) / s);
  }
}

double Random::exponential() { return -std::log(open_unit()); }

double Random::gamma(double shape) {
  if (!(shape > 0 && std::isfinite(shape)))
    throw std::domain_error("a gamma draw needs a finite shape above 0");
  if (shape < 1) return gamma(shape + 1) * std::pow(open_unit(), 1 / shape);
  const double d = shape - 1.0 / 3, c = 1 / std::sqrt(9 * d);
  for (;;) {
    const double z = normal(), v = std::pow(1 + c * z, 3);
    if (v <= 0) continue;
    if (std::log(open_unit()) < z * z / 2 + d - d * v + d * std::log(v)) return d * v;
  }
}

double Random::beta(double a, double b) {
  if (a < 1 && b < 1) {  // Joehnk: gammas of tiny shape would both vanish
    if (!(a > 0 && b > 0)) throw std::domain_error("a beta draw needs two shapes above 0");
    for (;;) {
      const double log_x = std::log(open_unit()) / a, log_y = std::log(open_unit()) / b;
      const double top = std::max(log_x, log_y);
      const double sum = std::exp(log_x - top) + std::exp(log_y - top);
      if (top + std::log(sum) <= 0) return std::exp(log_x - top) / sum;
    }
  }
  const double x = gamma(a), y = gamma(b);
  return x / (x + y);
}

std::int64_t Random::binomial(std::int64_t n, double p) {
  if (!(n >= 0 && p >= 0 && p <= 1))
    throw std::domain_error("a binomial draw needs n of 0 or more and p in [0, 1]");
  std::int64_t count = 0;
  while (n > 24) {  // the middle of n ordered uniforms is a beta; p falls on one side of it
    const std::int64_t middle = n / 2 + 1;
    const double y = beta(static_cast<double>(middle), static_cast<double>(n + 1 - middle));
    if (y <= p) {
      count += middle;
      n -= middle;
      p = y < 1 ? (p - y) / (1 - y) : 0;
    } else {
      n = middle - 1;
      p /= y;
    }
  }
  for (; n > 0; --n) count += unit() < p ? 1 : 0;
  return count;
}

std::int64_t Random::hypergeometric(std::int64_t total, std::int64_t marked, std::int64_t drawn) {
  if (!(marked >= 0 && drawn >= 0 && marked <= total && drawn <= total))
    throw std::domain_error("a hypergeometric draw needs 0 <= marked, drawn <= total");
  const std::int64_t least = std::max<std::int64_t>(0, drawn - (total - marked));
  const std::int64_t most = std::min(marked, drawn);
  if (least == most) return least;
  const double n = static_cast<double>(total), m = static_cast<double>(marked),
               k = static_cast<double>(drawn);
  const std::int64_t mode =
      std::clamp(static_cast<std::int64_t>((m + 1) * (k + 1) / (n + 2)), least, most);
  const double rest = n - m - k;
  double up = hypergeometric_probability(static_cast<double>(mode), n, m, k), down = up;
  std::int64_t high = mode, low = mode;
  double left = unit() - up;
  if (left < 0) return mode;
  while (low > least || high < most) {  // outwards, one step each side in turn
    if (high < most) {
      const double x = static_cast<double>(high);
      up *= (m - x) * (k - x) / ((x + 1) * (rest + x + 1));
      ++high;
      left -= up;
      if (left < 0) return high;
    }
    if (low > least) {
      const double x = static_cast<double>(low);
      down *= x * (rest + x) / ((m - x + 1) * (k - x + 1));
      --low;
      left -= down;
      if (left < 0) return low;
    }
  }
  return mode;  // the last rounding error of the sum
}

std::int64_t Random::beta_binomial(std::int64_t n, double p, double rho) {
  if (!(rho >= 0 && rho <= 1)) throw std::domain_error("rho must lie in [0, 1]");
  if (rho == 0 || p <= 0 || p >= 1) return binomial(n, p);
  if (rho == 1) return unit() < p ? n : 0;
  const double size = (1 - rho) / rho;
  return binomial(n, beta(p * size, (1 - p) * size));
}

}  // namespace plumule::stats
