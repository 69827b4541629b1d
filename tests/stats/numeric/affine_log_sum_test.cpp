// The sums behind the beta-binomial against plain summation in long double.
#include "stats/numeric/affine_log_sum.hpp"

#include <cmath>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("sums of logs and their derivatives by plain summation") {
  for (const double t : {0.0, 1e-6, 0.01, 1.0, 100.0}) {
    for (const double a : {0.001, 0.3, 0.9}) {
      for (const int m : {0, 1, 128, 129, 700, 20000}) {
        long double value = 0, da = 0, dt = 0, aa = 0, at = 0, tt = 0;
        for (int j = 0; j < m; ++j) {
          const long double d = a + static_cast<long double>(j) * t;
          value += std::log(d);
          da += 1 / d;
          dt += j / d;
          aa -= 1 / (d * d);
          at -= j / (d * d);
          tt -= static_cast<long double>(j) * j / (d * d);
        }
        const AffineLogSum s = affine_log_sum(a, t, m);
        CHECK_CLOSE(s.value, static_cast<double>(value), 1e-11);
        CHECK_CLOSE(s.a, static_cast<double>(da), 1e-11);
        CHECK_CLOSE(s.t, static_cast<double>(dt), 1e-11);
        CHECK_CLOSE(s.aa, static_cast<double>(aa), 1e-11);
        CHECK_CLOSE(s.at, static_cast<double>(at), 1e-11);
        CHECK_CLOSE(s.tt, static_cast<double>(tt), 1e-11);
      }
    }
  }
}
