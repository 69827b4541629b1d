// Chebyshev series against functions and integrals known in closed form.
#include "stats/numeric/chebyshev.hpp"

#include <cmath>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("a series through the points gives the function back between them") {
  for (const std::size_t n : {31u, 32u, 59u}) {
    auto values = chebyshev_points(n);
    for (auto& v : values) v = std::exp(v);
    const auto series = chebyshev_series(values);
    for (const double t : {-1.0, -0.37, 0.0, 0.91, 1.0}) {
      CHECK_CLOSE(series_at(series, t), std::exp(t), 1e-13);
      CHECK_WITHIN(series_at(integrated_series(series), t), std::exp(t) - std::exp(-1.0), 1e-13);
    }
    CHECK_CLOSE(dot(clenshaw_curtis_weights(n), values), std::exp(1.0) - std::exp(-1.0), 1e-13);
  }
}

TEST_CASE("the coefficients of exp are its modified Bessel functions") {
  // Abramowitz & Stegun 9.8: I0(1) = 1.2660658778, I1(1) = 0.5651591040 (table, 10 digits)
  auto values = chebyshev_points(40);
  for (auto& v : values) v = std::exp(v);
  const auto series = chebyshev_series(values);
  CHECK_CLOSE(series[0], 1.2660658778, 1e-10);
  CHECK_CLOSE(series[1], 2 * 0.5651591040, 1e-9);
}
