// Reckon against published and independently computed values.
#include "analysis/proportion_reckoning.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule;
using namespace plumule::tests;

TEST_CASE("840 intervals of small tests as computed by two independent programs") {
  // interval_check_values.csv: mpmath at 40 digits and base R, equal to 3e-16.
  int checked = 0;
  for (const Row& row : read_csv("reference/statistics/interval_check_values.csv")) {
    const auto x = std::llround(number(row, "x"));
    const auto n = std::llround(number(row, "n"));
    const auto finding = analysis::reckon({x, n}, {});
    for (const auto& interval : finding.proportions[0].intervals) {
      const std::string method(interval.method);
      if (row.at("method") != method) continue;
      const bool closed = method == "jeffreys" && (x == 0 || x == n);
      if (!(closed && x == 0)) CHECK_CLOSE(interval.lower, number(row, "lower"), 1e-9);
      if (!(closed && x == n)) CHECK_CLOSE(interval.upper, number(row, "upper"), 1e-9);
      ++checked;
    }
  }
  CHECK(checked > 400);
}

TEST_CASE("one-sided exact limit of ten of ten: 0.05^(1/10)") {
  analysis::ReckonQuestion question;
  question.side = stats::Side::lower;
  const auto finding = analysis::reckon({10, 10}, question);
  CHECK_CLOSE(finding.proportions[0].intervals[1].lower, 0.7411344491, 1e-9);
  CHECK_CLOSE(finding.proportions[0].intervals[1].upper, 1, 1e-12);
}

TEST_CASE("Newcombe's published example: 56/70 against 48/80") {
  // Newcombe 1998, Statistics in Medicine 17:873-890, table II, method 10: 0.0524 to 0.3339.
  const auto finding = analysis::reckon({56, 70}, {48, 80}, {});
  CHECK_CLOSE(finding.difference->estimate, 0.2, 1e-12);
  CHECK_WITHIN(finding.difference->newcombe.lower, 0.0524, 0.00005);
  CHECK_WITHIN(finding.difference->newcombe.upper, 0.3339, 0.00005);
}

TEST_CASE("exact tests of 45/50 against 38/50 as computed outside") {
  // twoprop_cases.csv, case tp01.
  const auto finding = analysis::reckon({45, 50}, {38, 50}, {});
  REQUIRE(finding.tests.size() == 4);
  CHECK_CLOSE(*finding.tests[0].p, 0.108369584088, 1e-9);
  CHECK_CLOSE(*finding.tests[2].p, 0.0675340054453, 1e-9);
}

TEST_CASE("nothing tried is nothing known, and nonsense is refused") {
  const auto finding = analysis::reckon({0, 0}, {0, 0}, {});
  CHECK_FALSE(finding.proportions[0].fraction.has_value());
  CHECK_CLOSE(finding.proportions[0].intervals[0].lower, 0, 1e-12);
  CHECK_CLOSE(finding.proportions[0].intervals[0].upper, 1, 1e-12);
  CHECK(finding.tests.empty());
  CHECK_THROWS_AS(analysis::reckon({3, 2}, {}), std::domain_error);
  CHECK_THROWS_AS(analysis::reckon({-1, 2}, {}), std::domain_error);
}
