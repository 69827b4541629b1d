// The viability equation and the moisture equation against values computed with 30 and 40 digits,
// and against what was published of them.
#include "stats/ageing/viability_equation.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <map>
#include <stdexcept>
#include <string>

#include "stats/ageing/ageing_rate.hpp"
#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

const std::string folder = "reference/viability/";

std::map<std::string, stats::ViabilityConstants> constants_by_crop() {
  std::map<std::string, stats::ViabilityConstants> all;
  for (const auto& row : read_csv(folder + "viability_constants.csv"))
    if (!row.at("KE").empty())
      all[row.at("crop")] = {number(row, "KE"),
                             number(row, "CW"),
                             number(row, "CH"),
                             number(row, "CQ"),
                             {},
                             {},
                             {},
                             {}};
  return all;
}

}  // namespace

TEST_CASE("days to lose a probit, and what is alive after years, as computed with 40 digits") {
  const auto constants = constants_by_crop();
  int seen = 0;
  for (const auto& row : read_csv(folder + "viability_examples.csv")) {
    CAPTURE(row.at("crop"));
    const double sigma =
        stats::days_to_lose_a_probit(constants.at(row.at("crop")), number(row, "moisture_pct_fwb"),
                                     number(row, "temperature_C"));
    CHECK_CLOSE(sigma, number(row, "sigma_days"), 1e-11);
    // A figure under the least double (1e-362) is read as 0.
    const double after = stats::normal_quantile(0.98) - 365 / sigma;
    CHECK_WITHIN(100 * stats::normal_lower(after),
                 std::strtod(row.at("viability_pct_after_365_d").c_str(), nullptr), 1e-8);
    ++seen;
  }
  CHECK(seen == 174);
}

TEST_CASE("pepper at 35 C lasts as long as the published trial did") {
  // Demir et al. 2009, HortScience 44:1679-1682: 7.0 to 12.1 %, 35 C, stored up to 306 days.
  const stats::ViabilityConstants pepper{7.767, 4.670, 0.0329, 0.000478, 7.0, 12.1, 35, 35};
  CHECK_WITHIN(stats::days_to_lose_a_probit(pepper, 7.0, 35), 121.155, 5e-4);
  CHECK_WITHIN(stats::days_to_lose_a_probit(pepper, 12.1, 35), 9.40464, 5e-6);
  CHECK(stats::within_range(pepper, 7.0, 35));
  CHECK_FALSE(stats::within_range(pepper, 6.9, 35));
  CHECK_FALSE(stats::within_range(pepper, 8, 20));
  const stats::ViabilityConstants onion{6.975, 3.470, 0.040, 0.000428, {}, {}, {}, {}};
  CHECK_FALSE(stats::within_range(onion, 8, 20));
}

TEST_CASE("moisture in air, as computed with 30 digits and near what was published") {
  int published = 0;
  for (const auto& row : read_csv(folder + "moisture_check_values.csv")) {
    const double moisture =
        stats::moisture_in_air(number(row, "rh_fraction"), number(row, "temperature_C"),
                               number(row, "oil_fraction_dry_basis"));
    CHECK_CLOSE(moisture, number(row, "moisture_fresh_basis_pct"), 1e-12);
    if (row.at("published_value_fresh_basis_pct").empty()) continue;
    CHECK_WITHIN(moisture, number(row, "published_value_fresh_basis_pct"), 0.9);
    ++published;
  }
  CHECK(published >= 5);
  // Its inverse, from the same computation: 8 % fresh at 20 C and oil 0.40.
  CHECK_CLOSE(stats::moisture_in_air(0.5659349726396, 20, 0.40), 8, 1e-11);
}

TEST_CASE("a life by the lists leads from 92 to 70 % alive") {
  const auto rate = stats::ageing_by_lists(3);
  const double days = 3 * stats::days_in_year;
  CHECK_WITHIN(stats::normal_lower(stats::normal_quantile(0.92) - days / rate.days), 0.70, 0.003);
  CHECK(rate.log_sd == 0.7);
  CHECK(stats::ageing_by_equation(500).days == 500);
}

TEST_CASE("what no seed can have is refused") {
  const stats::ViabilityConstants any{8, 4, 0.03, 0.0004, {}, {}, {}, {}};
  CHECK_THROWS_AS(stats::days_to_lose_a_probit(any, 0, 20), std::domain_error);
  CHECK_THROWS_AS(stats::days_to_lose_a_probit(any, 100, 20), std::domain_error);
  CHECK_THROWS_AS(stats::days_to_lose_a_probit(any, 8, 150), std::domain_error);
  CHECK_THROWS_AS(stats::moisture_in_air(1.0, 20, 0), std::domain_error);
  CHECK_THROWS_AS(stats::moisture_in_air(0.5, -99, 0), std::domain_error);
  CHECK_THROWS_AS(stats::moisture_in_air(0.5, 20, 1), std::domain_error);
  CHECK_THROWS_AS(stats::ageing_by_lists(0), std::domain_error);
  CHECK_THROWS_AS(stats::ageing_by_equation(-1), std::domain_error);
}
