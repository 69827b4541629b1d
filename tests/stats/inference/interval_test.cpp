// Levels and sides of an interval.
#include "stats/inference/interval.hpp"

#include <limits>
#include <stdexcept>

#include "stats/proportions/tally.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the tail left out follows the sides") {
  CHECK_CLOSE(tail_probability(0.95, Side::both), 0.025, 1e-14);
  CHECK_CLOSE(tail_probability(0.95, Side::lower), 0.05, 1e-14);
  CHECK_CLOSE(normal_deviate(0.95, Side::both), 1.959963984540054, 1e-14);  // Abramowitz & Stegun
  CHECK(Interval{}.sides() == 2);
  CHECK(Interval{method::wilson, 0.9, 0, 1, Side::upper}.sides() == 1);
}

TEST_CASE("a level outside 0 to 1 is refused") {
  for (const double level : {0.0, 1.0, -1.0, 95.0, std::numeric_limits<double>::quiet_NaN()})
    CHECK_THROWS_AS(tail_probability(level, Side::both), std::domain_error);
}

TEST_CASE("a tally that cannot be is refused") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double infinity = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(Tally(3, 2), std::domain_error);
  CHECK_THROWS_AS(Tally(-1, 2), std::domain_error);
  CHECK_THROWS_AS(Tally(nan, 2), std::domain_error);
  CHECK_THROWS_AS(Tally(1, nan), std::domain_error);
  CHECK_THROWS_AS(Tally(1, infinity), std::domain_error);
  CHECK(Tally(0, 0).n() == 0);
  CHECK(Tally(3, 4).whole());
  CHECK_FALSE(Tally(3.5, 4).whole());
}
