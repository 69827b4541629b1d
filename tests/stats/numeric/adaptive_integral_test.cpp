// Adaptive integrals against closed forms, smooth and narrow.
#include "stats/numeric/adaptive_integral.hpp"

#include <cmath>
#include <numbers>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("smooth integrals are exact at once") {
  int calls = 0;
  const auto cubic = [&calls](double x) {
    ++calls;
    return x * x * x - x;
  };
  CHECK_CLOSE(adaptive_integral(cubic, 0, 2, 1e-12), 2, 1e-14);
  CHECK(calls == 15);
  CHECK_CLOSE(adaptive_integral([](double x) { return std::exp(x); }, -1, 1, 1e-12),
              std::exp(1.0) - std::exp(-1.0), 1e-14);
  CHECK(adaptive_integral(cubic, 2, 2, 1e-12) == 0);
}

TEST_CASE("a narrow bell is found and followed") {
  const double sd = 2e-3;
  const auto bell = [sd](double x) {
    const double z = (x - 0.5) / sd;
    return std::exp(-0.5 * z * z) / (sd * std::sqrt(2 * std::numbers::pi));
  };
  CHECK_CLOSE(adaptive_integral(bell, 0, 0.5, 1e-10) + adaptive_integral(bell, 0.5, 1, 1e-10), 1,
              1e-9);
  // a square root at its branch point: only halving helps
  CHECK_CLOSE(adaptive_integral([](double x) { return std::sqrt(x); }, 0, 1, 1e-10), 2.0 / 3, 1e-8);
}
