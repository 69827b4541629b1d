// See the header.
#include "stats/numeric/affine_log_sum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>

namespace plumule::stats {
namespace {

// Adds `weight` times the six summands at a real j.
void add(AffineLogSum& sum, double a, double t, double j, double weight) {
  const double inverse = 1 / (a + j * t), w = weight * inverse, ww = w * inverse;
  sum.value += weight * std::log(a + j * t);
  sum.a += w;
  sum.t += w * j;
  sum.aa -= ww;
  sum.at -= ww * j;
  sum.tt -= ww * j * j;
}

// Adds `weight` times their derivatives by j.
void add_slope(AffineLogSum& sum, double a, double t, double j, double weight) {
  const double inverse = 1 / (a + j * t), w = weight * inverse, ww = w * inverse;
  sum.value += w * t;
  sum.a -= ww * t;
  sum.t += ww * a;
  sum.aa += 2 * ww * inverse * t;
  sum.at -= ww * inverse * (a - j * t);
  sum.tt -= 2 * ww * inverse * a * j;
}

constexpr std::array<double, 5> node{0.14887433898163122, 0.43339539412924719, 0.67940956829902441,
                                     0.86506336668898451, 0.97390652851717172};
constexpr std::array<double, 5> node_weight{0.29552422471475287, 0.26926671930999636,
                                            0.21908636251598204, 0.14945134915058059,
                                            0.06667134430868814};

}  // namespace

AffineLogSum affine_log_sum(double a, double t, double m) {
  constexpr double single = 128;
  AffineLogSum sum;
  for (double j = 0; j < std::min(m, single); ++j) add(sum, a, t, j, 1);
  if (m <= single) return sum;
  // Sum of f over single ... m - 1 = integral from single - 1/2 to m - 1/2, less f'/24 at its ends.
  const double start = single - 0.5, end = m - 0.5;
  for (double from = start; from < end;) {
    const double to = std::min(2 * from, end), middle = (from + to) / 2, half = (to - from) / 2;
    for (std::size_t i = 0; i < node.size(); ++i)
      for (const double side : {-1.0, 1.0})
        add(sum, a, t, middle + side * half * node[i], half * node_weight[i]);
    from = to;
  }
  add_slope(sum, a, t, end, -1.0 / 24);
  add_slope(sum, a, t, start, 1.0 / 24);
  return sum;
}

}  // namespace plumule::stats
