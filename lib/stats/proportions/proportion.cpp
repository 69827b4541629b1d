// See the header. The lower Wilson end comes from the product of the roots, so that a few in a
// thousand million keep their digits.
#include "stats/proportions/proportion.hpp"

#include <algorithm>
#include <cmath>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

// Score interval's upper end, for x failures or successes alike.
double wilson_upper(double x, double n, double z) {
  if (x == n) return 1;
  const double c = z * z;
  return (x + c / 2 + z * std::sqrt(x * (n - x) / n + c / 4)) / (n + c);
}

double wilson_lower(double x, double n, double z) {
  if (x == 0) return 0;
  if (2 * x > n) return 1 - wilson_upper(n - x, n, z);
  return x * x / (n * (n + z * z) * wilson_upper(x, n, z));
}

// Newcombe 1998, method 4, upper end.
double corrected_upper(double x, double n, double z) {
  if (x == n) return 1;
  const double p = x / n, q = 1 - p;
  const double inside = z * z + 2 - 1 / n + 4 * p * (n * q - 1);
  const double upper =
      (2 * n * p + z * z + 1 + z * std::sqrt(std::max(0.0, inside))) / (2 * (n + z * z));
  return std::clamp(upper, p, 1.0);
}

double corrected_lower(double x, double n, double z) { return 1 - corrected_upper(n - x, n, z); }

// The interval with only the limits that `side` asks for.
template <class Lower, class Upper>
Interval closed(std::string_view name, double level, Side side, Lower&& lower, Upper&& upper) {
  Interval interval{name, level, 0, 1, side};
  if (side != Side::upper) interval.lower = lower();
  if (side != Side::lower) interval.upper = upper();
  return interval;
}

}  // namespace

Interval wilson(Tally tally, double level, Side side, bool correction) {
  const double z = normal_deviate(level, side), x = tally.x(), n = tally.n();
  if (n == 0) return {method::wilson, level, 0, 1, side, correction};
  Interval interval = closed(
      method::wilson, level, side,
      [&] { return correction ? corrected_lower(x, n, z) : wilson_lower(x, n, z); },
      [&] { return correction ? corrected_upper(x, n, z) : wilson_upper(x, n, z); });
  interval.correction = correction;
  return interval;
}

Interval clopper_pearson(Tally tally, double level, Side side) {
  const double tail = tail_probability(level, side), x = tally.x(), n = tally.n();
  if (n == 0) return {method::clopper_pearson, level, 0, 1, side};
  return closed(
      method::clopper_pearson, level, side,
      [&] { return x == 0 ? 0 : beta_quantile(tail, x, n - x + 1); },
      [&] { return x == n ? 1 : beta_quantile_upper(tail, x + 1, n - x); });
}

Interval jeffreys(Tally tally, double level, Side side, JeffreysEnds ends) {
  const double tail = tail_probability(level, side), x = tally.x(), n = tally.n();
  if (n == 0) return {method::jeffreys, level, 0, 1, side};
  const bool closing = ends == JeffreysEnds::closed;
  return closed(
      method::jeffreys, level, side,
      [&] { return closing && x == 0 ? 0 : beta_quantile(tail, x + 0.5, n - x + 0.5); },
      [&] { return closing && x == n ? 1 : beta_quantile_upper(tail, x + 0.5, n - x + 0.5); });
}

}  // namespace plumule::stats
