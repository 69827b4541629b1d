// The soil's clock: published days, straight lines between them, and what readings speak for.
#include "stats/emerging/soil_clock.hpp"

#include <cmath>
#include <stdexcept>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// Carrot's published days by soil temperature (Harrington and Minges 1954) and its fitted base.
EmergenceSpeed carrot() {
  return {{{5, 50.6}, {10, 17.3}, {15, 10.1}, {20, 6.9}, {25, 6.2}, {30, 6}, {35, 8.6}}, 2.1};
}

}  // namespace

TEST_CASE("speed: the published days, straight between them, to 0 at the base") {
  const auto speed = carrot();
  CHECK_WITHIN(1 / speed.at(15), 10.1, 1e-12);
  CHECK_WITHIN(speed.at(12.5), (1 / 17.3 + 1 / 10.1) / 2, 1e-12);  // by hand
  CHECK_WITHIN(speed.at(3.55), 1 / 50.6 / 2, 1e-12);               // half way to the base
  CHECK(speed.at(2.1) == 0);
  CHECK(speed.at(-20) == 0);
  CHECK_WITHIN(1 / speed.at(45), 8.6, 1e-12);
  CHECK(speed.fewest_days() == 6);
  CHECK(speed.most_days() == 50.6);
  const EmergenceSpeed baseless({{10, 20}, {20, 8}}, std::nullopt);
  CHECK(baseless.at(9.9) == 0);
}

TEST_CASE("without readings the clock runs evenly, at many speeds") {
  const auto paths = soil_clock(carrot(), {}, Warmth::not_known);
  double weight = 0;
  for (const auto& path : paths) {
    weight += path.weight();
    CHECK_FALSE(path.read());
    CHECK_WITHIN(path.at(20), 20 * path.at(1), 1e-12);
    CHECK(1 / path.at(1) > 6);
    CHECK(1 / path.at(1) < 50.6);
  }
  CHECK_WITHIN(weight, 1, 1e-12);
  for (const auto& path : soil_clock(carrot(), {}, Warmth::heated)) {
    CHECK(1 / path.at(1) > 6.1);
    CHECK(1 / path.at(1) < 10.2);
  }
}

TEST_CASE("lowest and highest read: between readings interpolated, good for 14 days after") {
  const std::vector<SoilReading> readings{{10, 20, false}, {0, 10, false}};
  for (const auto& path : soil_clock(carrot(), readings, Warmth::not_known)) {
    CHECK_WITHIN(path.at(1), carrot().at(10.5), 1e-12);
    CHECK_WITHIN(path.at(10) - path.at(9), carrot().at(19.5), 1e-12);
    CHECK_WITHIN(path.at(24) - path.at(23), carrot().at(20), 1e-12);
    CHECK_WITHIN(path.at(30) - path.at(29), path.at(26) - path.at(25), 1e-12);
    CHECK_WITHIN(path.at(3.25), path.at(3) + 0.25 * (path.at(4) - path.at(3)), 1e-12);
    CHECK(path.at(-1) == 0);
  }
}

TEST_CASE("a reading long before the sowing says nothing, one shortly before still does") {
  const std::vector<SoilReading> old{{-20, 4, false}}, lately{{-4, 4, false}};
  for (const auto& path : soil_clock(carrot(), old, Warmth::not_known)) CHECK_FALSE(path.read());
  for (const auto& path : soil_clock(carrot(), lately, Warmth::not_known)) {
    CHECK_WITHIN(path.at(10), 10 * carrot().at(4), 1e-12);
    CHECK(path.at(11) - path.at(10) > 1 / 50.6);
  }
}

TEST_CASE("a morning's reading lies a degree under the day's mean, give or take") {
  const std::vector<SoilReading> spot{{0, 12}};
  double speed = 0, square = 0;
  for (const auto& path : soil_clock(carrot(), spot, Warmth::not_known)) {
    speed += path.weight() * path.at(1);
    square += path.weight() * path.at(1) * path.at(1);
  }
  // By hand: between 10 and 15 C the speed rises by (1/10.1 - 1/17.3) / 5 a degree.
  const double slope = (1 / 10.1 - 1 / 17.3) / 5;
  CHECK_WITHIN(speed, carrot().at(13), 0.002);
  CHECK_WITHIN(std::sqrt(square - speed * speed), 1.5 * slope, 0.004);
}

TEST_CASE("tables that make no clock are refused") {
  CHECK_THROWS_AS(EmergenceSpeed({}, 2.0), std::domain_error);
  CHECK_THROWS_AS(EmergenceSpeed({{10, 0}}, 2.0), std::domain_error);
  CHECK_THROWS_AS(EmergenceSpeed({{10, 8}, {10, 7}}, 2.0), std::domain_error);
  const std::vector<SoilReading> bad{{0, std::nan("")}};
  CHECK_THROWS_AS(soil_clock(carrot(), bad, Warmth::not_known), std::domain_error);
}
