#include "stats/numeric/gamma_terms.hpp"

#include <algorithm>
#include <cmath>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr double precision = 1e-16;

// A value with its first two derivatives in k; d2 is the second derivative itself.
struct Jet {
  double d0, d1, d2;
};

Jet operator+(Jet a, Jet b) { return {a.d0 + b.d0, a.d1 + b.d1, a.d2 + b.d2}; }
Jet operator*(Jet a, Jet b) {
  return {a.d0 * b.d0, a.d1 * b.d0 + a.d0 * b.d1, a.d2 * b.d0 + 2 * a.d1 * b.d1 + a.d0 * b.d2};
}
Jet inverse(Jet a) {
  const double i = 1 / a.d0;
  return {i, -a.d1 * i * i, (2 * a.d1 * a.d1 * i - a.d2) * i * i};
}

// sum over n of x^n / ((k + 1) ... (k + n))
Jet series(double k, double x) {
  Jet sum{1, 0, 0};
  double term = 1;
  double first = 0;   // d log term / dk
  double second = 0;  // d2 log term / dk2
  for (int n = 1; n < 100000; ++n) {
    const double i = 1 / (k + n);
    term *= x * i;
    first -= i;
    second += i * i;
    const double bend = first * first + second;
    sum = sum + Jet{term, term * first, term * bend};
    if (term * std::max(1.0, bend) < precision * sum.d0 && n > x - k) break;
  }
  return sum;
}

// Q(k, x) Gamma(k) x^-k e^x as a continued fraction (Lentz's method), with derivatives.
Jet fraction(double k, double x) {
  Jet b{x + 1 - k, -1, 0};
  Jet c{1e300, 0, 0};
  Jet d = inverse(b);
  Jet h = d;
  for (int i = 1; i < 100000; ++i) {
    const Jet a{-i * (i - k), static_cast<double>(i), 0};
    b.d0 += 2;
    d = inverse(a * d + b);
    // The first c is infinite: what it adds to b is nothing.
    c = i == 1 ? b : b + a * inverse(c);
    const Jet step = c * d;
    h = h * step;
    if (std::fabs(step.d0 - 1) < precision * 4 && std::fabs(step.d1) < precision * 16 &&
        std::fabs(step.d2) < precision * 64)
      break;
  }
  return h;
}

}  // namespace

GammaShape gamma_shape(double k) { return {k, std::lgamma(k), digamma(k), trigamma(k)}; }

GammaTerms gamma_terms(const GammaShape& shape, double log_x) {
  const double k = shape.k;
  const double x = std::exp(log_x);
  const bool below = x < k + 1;
  // Factor before the series (over Gamma(k + 1)) or the fraction (over Gamma(k)), and the
  // derivatives of its logarithm.
  const double factor = std::exp(k * log_x - x - shape.log_gamma) / (below ? k : 1);
  const double first = log_x - shape.digamma - (below ? 1 / k : 0);
  const double second = -shape.trigamma + (below ? 1 / (k * k) : 0);
  if (!(factor > 0)) return below ? GammaTerms{0, 1, 0, 0} : GammaTerms{1, 0, 0, 0};
  const Jet rest = below ? series(k, x) : fraction(k, x);
  const Jet all = Jet{factor, factor * first, factor * (first * first + second)} * rest;
  if (below) return {std::min(all.d0, 1.0), std::max(1 - all.d0, 0.0), all.d1, all.d2};
  return {std::max(1 - all.d0, 0.0), std::min(all.d0, 1.0), -all.d1, -all.d2};
}

}  // namespace plumule::stats
