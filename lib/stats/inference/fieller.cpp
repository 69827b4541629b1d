// See the header.
#include "stats/inference/fieller.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

namespace plumule::stats {

FiellerSet fieller(double numerator, double denominator, double var_numerator,
                   double var_denominator, double covariance, double t) {
  if (!(std::isfinite(numerator) && std::isfinite(denominator) && var_numerator >= 0 &&
        var_denominator >= 0 && std::isfinite(covariance) && t >= 0))
    throw std::domain_error("Fieller's set needs finite estimates and variances of 0 or more");
  // a r^2 - 2 b r + c <= 0
  const double a = denominator * denominator - t * t * var_denominator;
  const double b = numerator * denominator - t * t * covariance;
  const double c = numerator * numerator - t * t * var_numerator;
  const double inside = b * b - a * c;
  constexpr double infinity = std::numeric_limits<double>::infinity();
  if (a > 0 && inside >= 0) {
    const double root = std::sqrt(inside);
    // Of the two roots the one without cancellation first, the other by their product.
    const double big = b >= 0 ? (b + root) / a : (b - root) / a;
    const double small = big == 0 ? 0 : c / a / big;
    return {FiellerKind::bounded, std::fmin(big, small), std::fmax(big, small)};
  }
  if (a < 0 && inside > 0) {
    const double root = std::sqrt(inside), one = (b + root) / a, two = (b - root) / a;
    return {FiellerKind::two_rays, std::fmin(one, two), std::fmax(one, two)};
  }
  return {FiellerKind::everything, -infinity, infinity};
}

}  // namespace plumule::stats
