// The root finder: known roots, infinite ends, no change of sign.
#include "stats/numeric/root.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "support/close.hpp"

using plumule::stats::find_root;

TEST_CASE("known roots to the last digits") {
  CHECK_CLOSE(find_root([](double x) { return x * x - 2; }, 0, 5), std::numbers::sqrt2, 4e-16);
  CHECK_CLOSE(find_root([](double x) { return std::cos(x); }, 1, 2), std::numbers::pi / 2, 4e-16);
  CHECK_CLOSE(find_root([](double x) { return 1 - std::exp(x - 1e-7); }, 1, -1), 1e-7, 1e-8);
  CHECK(find_root([](double x) { return x; }, 0, 1) == 0);
}

TEST_CASE("infinite values at the ends are walked away from") {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  const auto f = [](double x) {
    return x <= 0 ? -infinity : x >= 1 ? infinity : std::log(x / (1 - x)) - 1;
  };
  CHECK_CLOSE(find_root(f, 0, 1), 1 / (1 + std::exp(-1.0)), 4e-16);
  CHECK_CLOSE(find_root(f, 1, 0), 1 / (1 + std::exp(-1.0)), 4e-16);
}

TEST_CASE("a step is found, and without a change of sign the better end") {
  CHECK_CLOSE(find_root([](double x) { return x < 0.3 ? -1.0 : 1.0; }, 0, 1), 0.3, 1e-14);
  CHECK(find_root([](double x) { return x + 1; }, 0, 1) == 0);
}
