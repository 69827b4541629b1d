// The root of a function between two points where its sign differs. Infinite values are allowed.
#pragma once

#include <cmath>
#include <utility>

namespace plumule::stats {

// f(a) and f(b) must differ in sign (an end that is 0 is returned); otherwise the end of smaller
// |f| comes back. Secant and inverse-quadratic steps inside a shrinking bracket (Brent 1973), and
// halving where a value is infinite; stops at the spacing of doubles.
template <class Function>
double find_root(Function&& f, double a, double b) {
  double fa = f(a), fb = f(b);
  if (fa == 0) return a;
  if (fb == 0) return b;
  if ((fa > 0) == (fb > 0)) return std::fabs(fa) < std::fabs(fb) ? a : b;
  double c = a, fc = fa, step = b - a, before = step;
  for (int i = 0; i < 400; ++i) {
    if ((fb > 0) == (fc > 0)) {
      c = a;
      fc = fa;
      step = before = b - a;
    }
    if (std::fabs(fc) < std::fabs(fb)) {
      a = std::exchange(b, c);
      c = a;
      fa = std::exchange(fb, fc);
      fc = fa;
    }
    const double tolerance = 2.3e-16 * std::fabs(b) + 1e-300;
    const double half = (c - b) / 2;
    if (std::fabs(half) <= tolerance || fb == 0) return b;
    bool halve = true;
    if (std::isfinite(fa) && std::isfinite(fb) && std::isfinite(fc) &&
        std::fabs(before) >= tolerance && std::fabs(fa) > std::fabs(fb)) {
      const double s = fb / fa;
      double p, q;
      if (a == c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const double r = fb / fc, t = fa / fc;
        p = s * (2 * half * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0)
        q = -q;
      else
        p = -p;
      if (2 * p < 3 * half * q - std::fabs(tolerance * q) && 2 * p < std::fabs(before * q)) {
        before = std::exchange(step, p / q);
        halve = false;
      }
    }
    if (halve) step = before = half;
    a = b;
    fa = fb;
    b += std::fabs(step) > tolerance ? step : (half > 0 ? tolerance : -tolerance);
    fb = f(b);
  }
  return b;
}

}  // namespace plumule::stats
