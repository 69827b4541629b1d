// The day past which no more seedlings are waited for.
#include "crops/give_up.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "crops/emergence.hpp"
#include "crops/known_crop.hpp"
#include "crops/test_method.hpp"
#include "support/close.hpp"

using plumule::crops::all_crops;
using plumule::crops::emergence_table;
using plumule::crops::expected_days;
using plumule::crops::give_up_days;
using plumule::crops::GiveUp;
using plumule::crops::SownIn;
using plumule::crops::test_methods;
using plumule::tests::known_crop;
using Basis = GiveUp::Basis;

TEST_CASE("in a towel the laboratory's last count holds") {
  // 7 CFR 201.58, Table 2
  CHECK_CLOSE(give_up_days(known_crop("garden bean"), {}, SownIn::towel)->days, 8, 1e-15);
  CHECK_CLOSE(give_up_days(known_crop("parsley"), {}, SownIn::towel)->days, 28, 1e-15);
  // On blotter or towel day 10; in sand, the alternate, day 12.
  CHECK_CLOSE(give_up_days(known_crop("onion"), {}, SownIn::towel)->days, 10, 1e-15);
}

TEST_CASE("in soil of no known temperature") {
  // the largest of: last count and a week (201.58; common practice, no source); days at 15 to 25 C,
  // and twice those at 20 C (Harrington)
  const auto carrot = give_up_days(known_crop("carrot"));  // 14 + 7; 10; 2 x 7
  CHECK_CLOSE(carrot->days, 21, 1e-15);
  CHECK(carrot->basis == Basis::final_count_and_a_week);
  const auto bean = give_up_days(known_crop("garden bean"));  // 8 + 7; 16; 2 x 11
  CHECK_CLOSE(bean->days, 22, 1e-15);
  CHECK(bean->basis == Basis::twice_expected);
  const auto okra = give_up_days(known_crop("okra"));  // 14 + 7; 27; 2 x 17
  CHECK_CLOSE(okra->days, 34, 1e-15);
  const auto lima = give_up_days(known_crop("lima bean"));  // 9 + 7; 31; 2 x 18
  CHECK_CLOSE(lima->days, 36, 1e-15);
}

TEST_CASE("in soil of a known temperature it is twice the expected days") {
  const auto cold = give_up_days(known_crop("carrot"), 10);  // 17 days at 10 C
  CHECK_CLOSE(cold->days, 34, 1e-15);
  CHECK(cold->soil_temp_c == 10);
  const auto warm = give_up_days(known_crop("carrot"), 25);  // 2 x 6, whatever a laboratory does
  CHECK_CLOSE(warm->days, 12, 1e-15);
  CHECK(warm->basis == Basis::twice_expected);
}

TEST_CASE("too cold for any published day, the longest published is waited for") {
  const auto tomato = give_up_days(known_crop("tomato"), 6);  // 43 days at 10 C, none at 5 C
  CHECK_CLOSE(tomato->days, 43, 1e-15);
  CHECK(tomato->basis == Basis::published_days);
  const auto lettuce = give_up_days(known_crop("lettuce"), 34);  // too warm: as if not known
  CHECK_CLOSE(lettuce->days, give_up_days(known_crop("lettuce"))->days, 1e-15);
}

TEST_CASE("slow kinds are waited for as long as anybody says") {
  // The Manual of Seed Saving: New Zealand spinach takes up to six weeks
  CHECK_CLOSE(give_up_days(known_crop("New Zealand spinach"))->days, 42, 1e-15);
}

TEST_CASE("with a last count only, a week more is given in soil") {
  const auto thyme = give_up_days(known_crop("runner bean"));  // 201.58: 9 days
  CHECK_CLOSE(thyme->days, 16, 1e-15);
  CHECK(thyme->basis == Basis::final_count_and_a_week);
}

TEST_CASE("no day where no time is known, and none for a temperature that is no number") {
  CHECK(!give_up_days(known_crop("milkweed")).has_value());
  CHECK_THROWS_AS(give_up_days(known_crop("carrot"), std::nan("")), std::domain_error);
}

TEST_CASE(
    "in soil a laboratory's last count never holds, nor is it given up before published days") {
  for (const auto& crop : all_crops()) {
    int last_count = 0;
    for (const auto& method : test_methods(crop))
      last_count = std::max(last_count, method.final_count_days);
    const auto unknown = give_up_days(crop);
    if (last_count > 0) REQUIRE(unknown.has_value());
    if (!unknown) continue;
    CHECK(unknown->days >= last_count + (last_count > 0 ? 7 : 0));
    CHECK(unknown->basis != Basis::final_count);
    CHECK(unknown->days == std::floor(unknown->days));
    CHECK(!unknown->how.empty());
    CHECK(!unknown->origin.source.empty());
    for (int temp_c = -5; temp_c <= 45; ++temp_c) {
      const auto known = give_up_days(crop, temp_c);
      REQUIRE(known.has_value());
      CHECK(known->basis != Basis::final_count);
      CHECK(known->days > expected_days(crop, temp_c).days);
    }
    for (const auto& point : emergence_table(crop))
      if (point.days && point.temp_c >= 15 && point.temp_c <= 25)
        CHECK(unknown->days >= *point.days);
  }
}
