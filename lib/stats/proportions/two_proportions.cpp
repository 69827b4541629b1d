// The difference of two proportions; see the header.
#include "stats/proportions/two_proportions.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "stats/numeric/root.hpp"
#include "stats/proportions/proportion.hpp"

namespace plumule::stats {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

bool empty(const TwoByTwo& table) { return table.first.n() == 0 || table.second.n() == 0; }

// Derivative by q of the log-likelihood at p2 = q, p1 = p = q + d; falls as q grows.
double score(const TwoByTwo& table, double p, double q) {
  const auto part = [](double count, double over) { return count == 0 ? 0 : count / over; };
  return part(table.first.x(), p) - part(table.first.failures(), 1 - p) +
         part(table.second.x(), q) - part(table.second.failures(), 1 - q);
}

// p2 of greatest likelihood under p1 - p2 = d: Newton inside a shrinking bracket. The ends are
// written so that the 0 or 1 in them is exact.
double restricted(const TwoByTwo& table, double d) {
  double low = std::max(0.0, -d), high = std::min(1.0, 1 - d);
  if (score(table, std::max(0.0, d), low) <= 0) return low;
  if (score(table, std::min(1.0, 1 + d), high) >= 0) return high;
  double q = (low + high) / 2;
  for (int i = 0; i < 200; ++i) {
    const double s = score(table, q + d, q);
    (s > 0 ? low : high) = q;
    const auto part = [](double count, double over) {
      return count == 0 ? 0 : count / over / over;
    };
    const double slope = -part(table.first.x(), q + d) - part(table.first.failures(), 1 - q - d) -
                         part(table.second.x(), q) - part(table.second.failures(), 1 - q);
    const double step = s / slope;
    if (std::fabs(step) <= 4e-16 * q) return q;
    double next = q - step;
    if (!(next > low && next < high)) next = (low + high) / 2;
    q = next;
  }
  return q;
}

// Signed root of the Miettinen-Nurminen statistic for a true difference d; falls as d grows.
double deviate(const TwoByTwo& table, double d) {
  const double n1 = table.first.n(), n2 = table.second.n(), n = table.total();
  const double q = restricted(table, d), p = std::clamp(q + d, 0.0, 1.0);
  const double variance = (p * (1 - p) / n1 + q * (1 - q) / n2) * n / (n - 1);
  const double off = table.first.fraction() - table.second.fraction() - d;
  if (off == 0) return 0;
  return variance > 0 ? off / std::sqrt(variance) : std::copysign(infinity, off);
}

}  // namespace

Interval newcombe_difference(const TwoByTwo& table, double level, Side side, bool correction) {
  Interval interval{method::newcombe, level, -1, 1, side, correction};
  const Interval one = wilson(table.first, level, side, correction);  // checks the level
  if (empty(table)) return interval;
  // A one-sided limit needs both ends of each group at the one-sided deviate.
  const double two_sided = side == Side::both ? level : 2 * level - 1;
  if (!(two_sided > 0)) return interval;
  const Interval a =
      side == Side::both ? one : wilson(table.first, two_sided, Side::both, correction);
  const Interval b = wilson(table.second, two_sided, Side::both, correction);
  const double p1 = table.first.fraction(), p2 = table.second.fraction();
  if (side != Side::upper) interval.lower = p1 - p2 - std::hypot(p1 - a.lower, b.upper - p2);
  if (side != Side::lower) interval.upper = p1 - p2 + std::hypot(a.upper - p1, p2 - b.lower);
  return interval;
}

Interval miettinen_nurminen_difference(const TwoByTwo& table, double level, Side side) {
  const double z = normal_deviate(level, side);
  Interval interval{method::miettinen_nurminen, level, -1, 1, side};
  if (empty(table) || table.total() <= 1) return interval;
  const double seen = table.first.fraction() - table.second.fraction();
  if (side != Side::upper && seen > -1)
    interval.lower = find_root([&](double d) { return deviate(table, d) - z; }, -1, seen);
  if (side != Side::lower && seen < 1)
    interval.upper = find_root([&](double d) { return deviate(table, d) + z; }, seen, 1);
  return interval;
}

TwoProportionEffect difference(const TwoByTwo& table, double level, Side side) {
  return {table.first.fraction() - table.second.fraction(), newcombe_difference(table, level, side),
          miettinen_nurminen_difference(table, level, side)};
}

}  // namespace plumule::stats
