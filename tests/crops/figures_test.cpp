// Soil temperatures, seed life, heat sums and clusters against published figures.
#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <stdexcept>

#include "crops/clusters.hpp"
#include "crops/heat_sum.hpp"
#include "crops/known_crop.hpp"
#include "crops/seed_life.hpp"
#include "crops/soil_temperature.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::crops;
using plumule::tests::known_crop;
using plumule::tests::number;
using plumule::tests::read_csv;

TEST_CASE("soil temperatures in Celsius, disagreements side by side") {
  const auto lettuce = soil_ranges(known_crop("lettuce"));
  REQUIRE(lettuce.size() == 5);
  // Oregon State: 35 to 95 F, best 75 F; California GN 154: best 60 to 75 F
  CHECK_CLOSE(*lettuce[0].lowest, 5 / 3.0, 1e-12);
  CHECK_CLOSE(*lettuce[0].highest, 35, 1e-12);
  CHECK_CLOSE(*lettuce[0].best, 215 / 9.0, 1e-12);
  CHECK_CLOSE(*lettuce[1].best_from, 140 / 9.0, 1e-12);
  CHECK(!lettuce[1].best.has_value());
  for (const Crop& crop : all_crops())
    for (const SoilRange& range : soil_ranges(crop)) {
      if (range.lowest && range.highest) CHECK(*range.lowest < *range.highest);
      if (range.best_from && range.best_to) CHECK(*range.best_from < *range.best_to);
      if (range.lowest && range.best_from) CHECK(*range.lowest <= *range.best_from);
      if (range.highest && range.best) CHECK(*range.best <= *range.highest);
    }
}

TEST_CASE("seed life over the lists agrees with a summary made apart") {
  int checked = 0;
  for (const auto& row : read_csv("reference/crops/seed_longevity_summary.csv")) {
    const std::string& name = row.at("crop");
    // groups of kinds, and lists of two names for one crop, are merged otherwise in the tables
    if (name == "Annual flowers" || name == "Perennial flowers" || name == "Asian greens" ||
        name.rfind("Bean (snap", 0) == 0 || row.at("n_lists_read") == "0")
      continue;
    const auto summary = seed_life_summary(known_crop(name));
    REQUIRE_MESSAGE(summary.has_value(), name);
    CHECK_MESSAGE(summary->lists == static_cast<int>(number(row, "n_lists_read")), name);
    CHECK_CLOSE(summary->lowest, number(row, "lowest_years"), 1e-15);
    CHECK_CLOSE(summary->highest, number(row, "highest_years"), 1e-15);
    CHECK_CLOSE(summary->median_low, number(row, "median_of_low_ends"), 1e-15);
    CHECK(summary->handbook.has_value() == !row.at("handbook_years_memory").empty());
    if (summary->handbook)
      CHECK_CLOSE(*summary->handbook, number(row, "handbook_years_memory"), 1e-15);
    ++checked;
  }
  CHECK(checked >= 65);
  CHECK(!seed_life_summary(known_crop("boneset")).has_value());
}

TEST_CASE("a list that was only remembered stands apart from those that were read") {
  const auto scorzonera = seed_life_summary(known_crop("scorzonera"));
  REQUIRE(scorzonera.has_value());
  CHECK(scorzonera->lists == 0);
  CHECK(scorzonera->handbook == 2);
}

TEST_CASE("days by heat sum are those worked out apart") {
  // check_thermal_time.csv: heat sum / (T - base), printed to 0.1 day
  int checked = 0;
  for (const auto& row : read_csv("reference/crops/check_thermal_time.csv")) {
    if (row.at("predicted_days").empty()) continue;
    const double temp_c = number(row, "temp_c");
    for (const HeatSum& heat : heat_sums(known_crop(row.at("crop")))) {
      if (heat.base_c != number(row, "tmin_c")) continue;
      if (!heat.degree_days || std::fabs(*heat.degree_days - number(row, "heat_sum")) > 0.15)
        continue;
      const auto days = days_by_heat(heat, temp_c);
      CHECK(days.has_value() == (temp_c - *heat.base_c >= 3));
      if (days) CHECK_WITHIN(*days, number(row, "predicted_days"), 0.0501);
      ++checked;
    }
  }
  CHECK(checked >= 70);
}

TEST_CASE("fitted lines are those of the least squares fit") {
  std::map<std::string, bool> seen;
  for (const auto& row : read_csv("reference/crops/fitted_from_harrington.csv")) {
    if (seen[row.at("crop")]) continue;  // the first range of each crop is the one carried over
    seen[row.at("crop")] = true;
    bool found = false;
    for (const HeatSum& heat : heat_sums(known_crop(row.at("crop"))))
      found =
          found || (heat.origin.trust == Trust::computed && heat.base_c == number(row, "tb_c") &&
                    heat.degree_days == number(row, "degree_days_c"));
    CHECK_MESSAGE(found, row.at("crop"));
  }
  CHECK(seen.size() == 24);
}

TEST_CASE("a heat sum gives no days near its base or in the heat") {
  HeatSum heat;
  heat.base_c = 5;
  heat.degree_days = 100;
  CHECK(!days_by_heat(heat, 7.9).has_value());
  CHECK_CLOSE(*days_by_heat(heat, 15), 10, 1e-12);
  CHECK(!days_by_heat(heat, 30.1).has_value());
  heat.degree_days.reset();
  CHECK(!days_by_heat(heat, 15).has_value());
  CHECK_THROWS_AS(days_by_heat(heat, std::nan("")), std::domain_error);
}

TEST_CASE("clusters that give several seedlings") {
  // 7 CFR 201.56(d): Beta and New Zealand spinach are multi-seed units
  for (const char* name : {"beet", "Swiss chard", "sugar beet", "New Zealand spinach"})
    CHECK_MESSAGE(!clusters_of(known_crop(name)).empty(), name);
  CHECK(clusters_of(known_crop("tomato")).empty());
  for (const Crop& crop : all_crops())
    for (const Cluster& cluster : clusters_of(crop)) {
      CHECK(cluster.seedlings_low >= 1);
      if (cluster.seedlings_high) CHECK(*cluster.seedlings_high >= cluster.seedlings_low);
    }
}
