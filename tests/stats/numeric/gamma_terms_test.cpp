// The incomplete gamma function and its derivatives in the shape.
#include "stats/numeric/gamma_terms.hpp"

#include <cmath>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE(
    "incomplete gamma terms agree with the library function and its differences in the shape") {
  // The function itself: Boost.Math. Derivatives: five-point differences of it in the shape.
  int checked = 0;
  for (const double k : {0.05, 0.4, 1.0, 2.5, 9.0, 40.0, 300.0, 5000.0})
    for (const double ratio : {0.02, 0.3, 0.8, 0.97, 1.0, 1.03, 1.2, 2.0, 6.0}) {
      const double x = k * ratio;
      INFO("shape ", k, " at ", x);
      const GammaTerms t = gamma_terms(gamma_shape(k), std::log(x));
      const double lower = gamma_lower(x, k);
      const double upper = gamma_upper(x, k);
      if (lower > 1e-250) CHECK_CLOSE(t.lower, lower, 1e-11);
      if (upper > 1e-250) CHECK_CLOSE(t.upper, upper, 1e-11);
      const double h = 1e-3 * std::fmin(k, std::sqrt(k));
      const auto p = [&](int i) {
        return ratio < 1 ? gamma_lower(x, k + i * h) : -gamma_upper(x, k + i * h);
      };
      const double slope = (p(-2) - 8 * p(-1) + 8 * p(1) - p(2)) / (12 * h);
      const double bend = (-p(-2) + 16 * p(-1) - 30 * p(0) + 16 * p(1) - p(2)) / (12 * h * h);
      const double size = std::fmin(lower, upper);
      if (size < 1e-250) continue;
      CHECK_WITHIN(t.slope, slope, 1e-8 * (size + std::fabs(slope)));
      CHECK_WITHIN(t.curvature, bend,
                   1e-5 * (size / (h * 1e3) + std::fabs(bend)) + 1e-9 * size / (h * h));
      ++checked;
    }
  CHECK(checked >= 60);
}

TEST_CASE("shape one is the exponential distribution") {
  for (const double x : {1e-6, 0.2, 1.0, 1.9, 2.1, 30.0}) {
    const GammaTerms t = gamma_terms(gamma_shape(1), std::log(x));
    CHECK_CLOSE(t.lower, -std::expm1(-x), 1e-14);
    CHECK_CLOSE(t.upper, std::exp(-x), 1e-13);
  }
}

TEST_CASE("digamma and trigamma at one") {
  CHECK_CLOSE(digamma(1), -0.57721566490153286, 1e-14);  // minus Euler's constant
  CHECK_CLOSE(trigamma(1), 1.64493406684822644, 1e-14);  // pi^2 / 6
}
