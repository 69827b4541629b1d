// Minimum germination against the regulations.
#include "crops/standard.hpp"

#include <doctest/doctest.h>

#include "crops/known_crop.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using plumule::crops::all_crops;
using plumule::crops::standard_of;
using plumule::crops::Trust;
using plumule::tests::known_crop;
using plumule::tests::number;
using plumule::tests::read_csv;

TEST_CASE("federal minima are those of 7 CFR 201.31") {
  for (const auto& row : read_csv("reference/regulations/germination_standards.csv")) {
    const auto standard = standard_of(known_crop(row.at("kind")));
    REQUIRE(standard.has_value());
    CHECK_CLOSE(standard->fraction, number(row, "min_percent_incl_hard_seed") / 100, 1e-15);
    CHECK(standard->scope == "federal");
    CHECK(standard->origin.source.find("7 CFR 201.31") == 0);
    CHECK(standard->origin.trust == Trust::read);
  }
}

TEST_CASE("minima that growers ask for most") {
  // 7 CFR 201.31, typed in from the text of the section
  CHECK_CLOSE(standard_of(known_crop("pepper"))->fraction, 0.55, 1e-15);
  CHECK_CLOSE(standard_of(known_crop("carrot"))->fraction, 0.55, 1e-15);
  CHECK_CLOSE(standard_of(known_crop("cucumber"))->fraction, 0.80, 1e-15);
  CHECK_CLOSE(standard_of(known_crop("lettuce"))->fraction, 0.80, 1e-15);
  CHECK_CLOSE(standard_of(known_crop("tomato"))->fraction, 0.75, 1e-15);
  CHECK_CLOSE(standard_of(known_crop("New Zealand spinach"))->fraction, 0.40, 1e-15);
}

TEST_CASE("kinds of the state list have the state's figure") {
  // N.H. Admin. Code Agr 2203.01, Table 2200-1
  for (const auto& row : read_csv("reference/regulations/germination_standards_state_extra.csv")) {
    if (row.at("kind").rfind("ALL OTHER", 0) == 0) continue;
    const auto standard = standard_of(known_crop(row.at("kind")));
    REQUIRE(standard.has_value());
    CHECK_CLOSE(standard->fraction, number(row, "min_percent") / 100, 1e-15);
    CHECK(standard->scope == "state");
  }
}

TEST_CASE("vegetables and herbs without a figure have the state's default, others none") {
  // the same rule: 50 % for vegetable and herb kinds without a standard
  const auto lavender = standard_of(known_crop("lavender"));
  REQUIRE(lavender.has_value());
  CHECK_CLOSE(lavender->fraction, 0.5, 1e-15);
  CHECK(lavender->scope == "state default");
  CHECK(!standard_of(known_crop("zinnia")).has_value());
  CHECK(!standard_of(known_crop("barley")).has_value());
}

TEST_CASE("a minimum is a fraction above nothing") {
  for (const auto& crop : all_crops())
    if (const auto standard = standard_of(crop)) {
      CHECK(standard->fraction >= 0.3);  // the lowest published is rosemary's
      CHECK(standard->fraction <= 0.8);  // the highest, cucumber's and others'
    }
}
