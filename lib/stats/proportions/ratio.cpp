// The ratio of two proportions; see two_proportions.hpp.
#include <algorithm>
#include <cmath>
#include <limits>

#include "stats/numeric/root.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/proportions/ratio_recovery.hpp"
#include "stats/proportions/two_proportions.hpp"

namespace plumule::stats {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double far = 300;  // of a log ratio: its square stays finite

// Signed root of the Miettinen-Nurminen statistic for a true ratio r; falls as r grows.
double deviate(const TwoByTwo& table, double r) {
  const double x1 = table.first.x(), n1 = table.first.n(), x2 = table.second.x(),
               n2 = table.second.n(), n = table.total();
  // Restricted maximum likelihood: n r q^2 - b q + (x1 + x2) = 0, the smaller root.
  const double b = r * (n1 + x2) + x1 + n2, c = x1 + x2;
  const double q = std::min(1.0, 2 * c / (b + std::sqrt(std::max(0.0, b * b - 4 * n * r * c))));
  const double p = std::min(1.0, r * q);
  const double variance = (p * (1 - p) / n1 + r * r * q * (1 - q) / n2) * n / (n - 1);
  const double off = table.first.fraction() - r * table.second.fraction();
  if (off == 0) return 0;
  return variance > 0 ? off / std::sqrt(variance) : std::copysign(infinity, off);
}

}  // namespace

Interval recovered_ratio(const Limits& first, const Limits& second, double level, Side side) {
  Interval interval{method::newcombe, level, 0, infinity, side};
  const double product = first.estimate * second.estimate;
  // (product -+ root) / (bound (2 second - bound)), the lower by its conjugate so that it holds
  // where the divisor is 0 or negative. What stands under the root, product^2 - a (2 first - a) b
  // (2 second - b), in the distances of the bounds: near 1 it would cancel.
  const auto root = [&](double a, double b) {
    const double d = first.estimate - a, g = second.estimate - b;
    const double whole = first.estimate * g, other = second.estimate * d;
    return std::sqrt(std::max(0.0, whole * whole + other * other - d * d * g * g));
  };
  if (side != Side::upper && first.lower > 0) {
    const double a = first.lower, b = second.upper;
    interval.lower = a * (2 * first.estimate - a) / (product + root(a, b));
  }
  if (side != Side::lower) {
    const double a = first.upper, b = second.lower;
    if (b > 0) interval.upper = (product + root(a, b)) / (b * (2 * second.estimate - b));
  }
  return interval;
}

Interval newcombe_ratio(const TwoByTwo& table, double level, Side side) {
  tail_probability(level, side);  // checks the level
  const double two_sided = side == Side::both ? level : 2 * level - 1;
  if (table.first.n() == 0 || table.second.n() == 0 || !(two_sided > 0))
    return {method::newcombe, level, 0, infinity, side};
  const Interval a = wilson(table.first, two_sided), b = wilson(table.second, two_sided);
  return recovered_ratio({table.first.fraction(), a.lower, a.upper},
                         {table.second.fraction(), b.lower, b.upper}, level, side);
}

Interval miettinen_nurminen_ratio(const TwoByTwo& table, double level, Side side) {
  const double z = normal_deviate(level, side);
  Interval interval{method::miettinen_nurminen, level, 0, infinity, side};
  if (table.first.n() == 0 || table.second.n() == 0 || table.total() <= 1) return interval;
  const double x1 = table.first.x(), x2 = table.second.x();
  if (x1 == 0 && x2 == 0) return interval;
  const double seen = x1 == 0   ? -far
                      : x2 == 0 ? far
                                : std::log(x1 / table.first.n() / x2 * table.second.n());
  if (side != Side::upper && x1 > 0)
    interval.lower =
        std::exp(find_root([&](double t) { return deviate(table, std::exp(t)) - z; }, -far, seen));
  if (side != Side::lower && x2 > 0)
    interval.upper =
        std::exp(find_root([&](double t) { return deviate(table, std::exp(t)) + z; }, seen, far));
  return interval;
}

TwoProportionEffect ratio(const TwoByTwo& table, double level, Side side) {
  return {table.first.fraction() / table.second.fraction(), newcombe_ratio(table, level, side),
          miettinen_nurminen_ratio(table, level, side)};
}

}  // namespace plumule::stats
