// The root of a function between two points where its sign differs. Infinite values are allowed.
#pragma once

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <utility>

namespace plumule::stats {

// f(a) and f(b) must differ in sign (an end that is 0 is returned); otherwise the end of smaller
// |f| comes back. Boost's TOMS 748 (Alefeld, Potra & Shi 1995) down to the spacing of doubles,
// after halving for as long as an end is infinite, which its interpolation can't take.
template <class Function>
double find_root(Function&& f, double a, double b) {
  if (a > b) std::swap(a, b);
  double fa = f(a), fb = f(b);
  if (fa == 0) return a;
  if (fb == 0) return b;
  if ((fa > 0) == (fb > 0)) return std::fabs(fa) < std::fabs(fb) ? a : b;
  while (!std::isfinite(fa) || !std::isfinite(fb)) {
    const double middle = a + (b - a) / 2;
    if (middle <= a || middle >= b) return middle;
    const double value = f(middle);
    if (value == 0) return middle;
    ((value > 0) == (fa > 0) ? a : b) = middle;
    ((value > 0) == (fa > 0) ? fa : fb) = value;
  }
  const auto close = [](double low, double high) {
    return high - low <= 2.3e-16 * std::fmax(std::fabs(low), std::fabs(high)) + 1e-300;
  };
  std::uintmax_t most = 400;
  const auto [low, high] = boost::math::tools::toms748_solve(f, a, b, fa, fb, close, most);
  return std::fabs(f(low)) < std::fabs(f(high)) ? low : high;
}

}  // namespace plumule::stats
