// Numbers as a grower reads them.
#include "report/parts/number_words.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace plumule::report;

TEST_CASE("percentages without false digits") {
  CHECK(percent(0.84) == "84 %");
  CHECK(percent(0.8449) == "84 %");
  CHECK(percent(0) == "0 %");
  CHECK(percent(1) == "100 %");
  CHECK(percent(0.996) == "99.6 %");
  CHECK(percent(0.004) == "0.4 %");
  CHECK(percent(0.00001) == "under 0.1 %");
  CHECK(percent(0.99999) == "over 99.9 %");
  CHECK(percent(std::nan("")) == "-");
  CHECK(percent(std::optional<double>{}) == "-");
}

TEST_CASE("points and days keep their sign and lose a negative nought") {
  CHECK(points(0.18) == "+18 points");
  CHECK(points(-0.01) == "-1 point");
  CHECK(points(-0.001) == "0 points");
  CHECK(points_range(-0.05, 0.3) == "-5 to +30 points");
  CHECK(days(8.04) == "8.0");
  CHECK(signed_days(-0.04) == "0.0");
  CHECK(signed_days(-1.25) == "-1.3");
  CHECK(days(std::numeric_limits<double>::infinity()) == "-");
}

TEST_CASE("p values, and the least that a layout can give") {
  CHECK(p_words(0.0001) == "p below 0.001");
  CHECK(p_words(0.0294) == "p = 0.029");
  CHECK(p_words(0.3333) == "p = 0.33");
  CHECK(p_value(1) == "1");
  CHECK(chance_of_layout(1.0 / 3, 6) == "1/3");
  CHECK(chance_of_layout(2.0 / 70, 70) == "1/35");
  CHECK(chance_of_layout(1.0 / 462, 462) == "1/462");
  CHECK(chance_of_layout(2.0 / 9, 9) == "2/9");
  CHECK(chance_of_layout(1, 2) == "1");
}

TEST_CASE("figures of three digits, counts with their thousands") {
  CHECK(figure(0.01234) == "0.012");
  CHECK(figure(12.345) == "12.3");
  CHECK(figure(0.99987) == "1.00");  // three digits also of what is rounded up
  CHECK(figure(9.9999) == "10.0");
  CHECK(figure(99.97) == "100");
  CHECK(figure(1234.4) == "1234");
  CHECK(figure(std::nan("")) == "-");
  CHECK(whole(1234) == "1234");
  CHECK(whole(1234567) == "1,234,567");
  CHECK(counted(1, "seed", "seeds") == "1 seed");
  CHECK(level_words(0.95) == "95 %");
  CHECK(level_words(0.999) == "99.9 %");
}
