// Days to emergence by soil temperature, at and between the printed temperatures.
#include "crops/emergence.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "crops/known_crop.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using plumule::crops::all_crops;
using plumule::crops::emergence_table;
using plumule::crops::expected_days;
using plumule::crops::ExpectedDays;
using plumule::tests::known_crop;
using Status = ExpectedDays::Status;

TEST_CASE("days and percentages are those of Harrington and Minges") {
  for (const auto& row : plumule::tests::read_csv("reference/crops/harrington_days.csv")) {
    const auto& crop = known_crop(row.at("crop"));
    const double temp_c = plumule::tests::number(row, "temp_c");
    for (const auto& point : emergence_table(crop)) {
      if (point.temp_c != temp_c) continue;
      REQUIRE(point.days.has_value() == !row.at("days").empty());
      if (point.days) CHECK_CLOSE(*point.days, plumule::tests::number(row, "days"), 1e-15);
      REQUIRE(point.fraction.has_value() == !row.at("percent_normal").empty());
      if (point.fraction)
        CHECK_CLOSE(*point.fraction, plumule::tests::number(row, "percent_normal") / 100, 1e-15);
      CHECK(point.borrowed_from.empty());
    }
  }
}

TEST_CASE("a line of the table typed in by hand") {
  // Harrington and Minges 1954 after Knott's Handbook: carrot, 5 to 35 C
  const std::vector<double> carrot = {51, 17, 10, 7, 6, 6, 9};
  for (std::size_t i = 0; i < carrot.size(); ++i) {
    const auto expected = expected_days(known_crop("carrot"), 5 + 5 * static_cast<double>(i));
    CHECK(expected.status == Status::published);
    CHECK_CLOSE(expected.days, carrot[i], 1e-15);
  }
}

TEST_CASE("between two temperatures it is the speed that is halved") {
  // beet: 17 days at 10 C, 10 at 15 C; at 12.5 C 2 / (1/17 + 1/10), worked by hand
  const auto beet = expected_days(known_crop("beet"), 12.5);
  CHECK(beet.status == Status::interpolated);
  CHECK_CLOSE(beet.days, 340.0 / 27, 1e-12);
  CHECK_CLOSE(beet.colder_c, 10, 1e-15);
  CHECK_CLOSE(beet.warmer_c, 15, 1e-15);
  CHECK(beet.how == "between 17 days at 10 C and 10 days at 15 C");
}

TEST_CASE("nothing is reckoned beside a gap or outside the table") {
  const auto& tomato = known_crop("tomato");  // none at 5 C, 43 days at 10 C
  CHECK(expected_days(tomato, 5).status == Status::none);
  CHECK(expected_days(tomato, 7).status == Status::none);
  CHECK(expected_days(tomato, 7).cold_side);
  CHECK(expected_days(tomato, -3).status == Status::outside);
  CHECK(expected_days(tomato, -3).cold_side);
  CHECK(expected_days(tomato, 45).status == Status::outside);
  CHECK(!expected_days(tomato, 45).cold_side);
  const auto& lettuce = known_crop("lettuce");  // 3 days at 30 C, none at 35 C
  CHECK(expected_days(lettuce, 33).status == Status::none);
  CHECK(!expected_days(lettuce, 33).cold_side);
  CHECK(expected_days(known_crop("zinnia"), 20).status == Status::no_table);
  CHECK_THROWS_AS(expected_days(tomato, std::nan("")), std::domain_error);
  CHECK(expected_days(tomato, std::numeric_limits<double>::infinity()).status == Status::outside);
}

TEST_CASE("a crop without a table has that of its own species, and says whose") {
  const auto kale = expected_days(known_crop("kale"), 15);
  CHECK(kale.status == Status::published);
  CHECK_CLOSE(kale.days, 9, 1e-15);  // Harrington and Minges: cabbage, 9 days at 15 C
  CHECK(kale.how == "9 days published for Cabbage at 15 C");
  for (const auto& row : emergence_table(known_crop("kale"))) CHECK(row.borrowed_from == "Cabbage");
}

TEST_CASE("expected days lie within the bracket, whatever the crop and temperature") {
  for (const auto& crop : all_crops())
    for (int tenth = -50; tenth <= 500; tenth += 7) {
      const double temp_c = tenth / 10.0;
      const auto expected = expected_days(crop, temp_c);
      CHECK(!expected.how.empty());
      if (expected.status != Status::interpolated) continue;
      const double one = expected_days(crop, expected.colder_c).days;
      const double other = expected_days(crop, expected.warmer_c).days;
      CHECK(expected.days >= std::min(one, other) - 1e-9);
      CHECK(expected.days <= std::max(one, other) + 1e-9);
    }
}

TEST_CASE("tables run from cold to warm") {
  for (const auto& crop : all_crops()) {
    const auto table = emergence_table(crop);
    for (std::size_t i = 0; i + 1 < table.size(); ++i)
      CHECK_CLOSE(table[i + 1].temp_c - table[i].temp_c, 5, 1e-12);
    for (const auto& point : table) {
      CHECK(!point.origin.source.empty());
      if (point.days) CHECK((point.tried && *point.days >= 1 && *point.days <= 172));
      if (point.fraction) CHECK((*point.fraction >= 0 && *point.fraction <= 1));
    }
  }
}
