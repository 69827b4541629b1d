// exp, and the normal's chance below and density, of four numbers at once, for loops marked
// PLUMULE_WIDE: the standard library has them one at a time, at some ten times the cost.
#pragma once

#include <cstddef>
#include <cstring>
#include <numbers>

#include "stats/numeric/wide.hpp"

namespace plumule::stats {

// c_0 + c_1 x + c_2 x^2 + ...
template <std::size_t terms>
[[gnu::always_inline]] inline void polynomial(const Four& x, const double (&c)[terms], Four& sum) {
  sum = x * 0 + c[terms - 1];
  for (std::size_t i = terms - 1; i-- > 0;) sum = sum * x + c[i];
}

// x to exp(x), within 2e-13 of itself; x not above 700, and what is below -700 counts as that.
// exp(x) = 2^k exp(r), k whole and |r| <= log(2) / 2, with Taylor's series for exp(r).
[[gnu::always_inline]] inline void to_exp(Four& x) {
  // Numbers near 1.5 * 2^52 have no digits after the point: adding it rounds, and leaves k in the
  // lowest bits.
  constexpr double rounding = 6755399441055744.0;
  const Four lowest = {-700, -700, -700, -700};
  x = x > lowest ? x : lowest;
  const Four shifted = x * std::numbers::log2e + rounding;
  const Four r = x - (shifted - rounding) * std::numbers::ln2;
  static constexpr double terms[] = {
      1,         1,          1.0 / 2,     1.0 / 6,      1.0 / 24,      1.0 / 120,
      1.0 / 720, 1.0 / 5040, 1.0 / 40320, 1.0 / 362880, 1.0 / 3628800, 1.0 / 39916800};
  Four series;
  polynomial(r, terms, series);
  FourBits power, bits;
  std::memcpy(&power, &shifted, sizeof power);
  std::memcpy(&bits, &series, sizeof bits);
  bits += power << 52;
  std::memcpy(&x, &bits, sizeof x);
}

// The standard normal's chance below z, and its density there: within 1e-13, and the tail within
// 1e-5 of itself however small (a ratio of two polynomials times the density: Hart 1968, Computer
// Approximations, 5666, as West gives it, Wilmott 2005, May).
[[gnu::always_inline]] inline void normal_at(const Four& z, Four& below, Four& density) {
  const Four a = z < 0.0 ? -z : z;
  density = a * a / -2;
  to_exp(density);
  static constexpr double above[] = {220.206867912376,  221.213596169931, 112.079291497871,
                                     33.912866078383,   6.37396220353165, 0.700383064443688,
                                     0.0352624965998911};
  static constexpr double under[] = {440.413735824752, 793.826512519948,  637.333633378831,
                                     296.564248779674, 86.7807322029461,  16.064177579207,
                                     1.75566716318264, 0.0883883476483184};
  Four top, bottom;
  polynomial(a, above, top);
  polynomial(a, under, bottom);
  const Four tail = density * (top / bottom);
  below = z < 0.0 ? tail : 1 - tail;
  density *= std::numbers::inv_sqrtpi / std::numbers::sqrt2;
}

}  // namespace plumule::stats
