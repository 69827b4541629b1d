// Integrals of smooth functions with narrow places: Gauss and Kronrod's pair, halving where the two
// disagree. Boost's pair holds its error against the integral itself, and would chase the rounding
// of pieces that are next to nothing; this one takes an absolute tolerance.
#pragma once

#include <array>
#include <cmath>

namespace plumule::stats {

// Integral of f over [a, b], to about `tolerance` absolutely (spread over the halves); at most
// `depth` halvings. Nodes and weights of the 7-15 point pair as in QUADPACK (Piessens et al. 1983).
template <class Function>
double adaptive_integral(Function&& f, double a, double b, double tolerance, int depth = 24) {
  static constexpr std::array<double, 8> node = {
      0.991455371120812639206854697526329, 0.949107912342758524526189684047851,
      0.864864423359769072789712788640926, 0.741531185599394439863864773280788,
      0.586087235467691130294144691693013, 0.405845151377397166906606412076961,
      0.207784955007898467600689403773245, 0.0};
  static constexpr std::array<double, 8> kronrod = {
      0.022935322010529224963732008058970, 0.063092092629978553290700663189204,
      0.104790010322250183839876322541518, 0.140653259715525918745189590510238,
      0.169004726639267902826583426598550, 0.190350578064785409913256402421014,
      0.204432940075298892414161999234649, 0.209482141084727828012999174891714};
  static constexpr std::array<double, 4> gauss = {
      0.129484966168869693270611432679082, 0.279705391489276667901467771423780,
      0.381830050505118944950369775488975, 0.417959183673469387755102040816327};
  if (!(b > a)) return 0;
  const double middle = 0.5 * (a + b), half = 0.5 * (b - a);
  double wide = 0, narrow = 0;
  for (std::size_t i = 0; i < 8; ++i) {
    const double x = half * node[i];
    const double value = i == 7 ? f(middle) : f(middle - x) + f(middle + x);
    wide += kronrod[i] * value;
    if (i % 2 == 1) narrow += gauss[i / 2] * value;
  }
  wide *= half;
  narrow *= half;
  // The wider rule is far better than their difference says: QUADPACK's power 3/2.
  const double miss = std::fabs(wide - narrow), size = std::fabs(wide);
  const double error = size > 0 ? size * std::pow(200 * miss / size, 1.5) : miss;
  if (depth == 0 || std::fmin(error, miss) <= tolerance) return wide;
  return adaptive_integral(f, a, middle, 0.5 * tolerance, depth - 1) +
         adaptive_integral(f, middle, b, 0.5 * tolerance, depth - 1);
}

}  // namespace plumule::stats
