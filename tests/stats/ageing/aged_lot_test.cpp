// A lot at any age: the tray-aware posterior on the day of its test, plain sums over p and sigma on
// any other day, closed forms where there is no test, and what must not matter.
#include "stats/ageing/aged_lot.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "stats/trays/tray_aware.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule;
using namespace plumule::tests;
using stats::AgedLot;
using stats::AgedTest;
using stats::Ground;

namespace {

constexpr double year = stats::days_in_year;

double log_beta(double a, double b) { return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b); }

// Of one tray, without the coefficient.
double log_height(const stats::TrayCount& tray, double p, double rho) {
  const auto x = static_cast<double>(tray.up), n = static_cast<double>(tray.sown);
  if (rho == 0) return x * std::log(p) + (n - x) * std::log1p(-p);
  const double s = (1 - rho) / rho;
  return log_beta(p * s + x, (1 - p) * s + n - x) - log_beta(p * s, (1 - p) * s);
}

// Sums over a fine grid of the newest test's angle and of log sigma; every towel a tray at rho.
// `read` gives what is averaged, of p on the day asked about.
double by_plain_sums(const std::vector<AgedTest>& tests, const stats::AgeingRate& rate, double rho,
                     double day, const std::function<double(double)>& read) {
  double newest = tests.front().day;
  for (const auto& test : tests) newest = std::max(newest, test.day);
  double above = 0, all = 0;
  constexpr int angles = 4000, steps = 400;
  for (int k = 0; k < steps; ++k) {
    const double u = -3.125 + 6.25 * (k + 0.5) / steps;
    const double sigma = rate.days * std::exp(rate.log_sd * u);
    for (int i = 0; i < angles; ++i) {
      const double sine = std::sin((i + 0.5) * std::numbers::pi / 2 / angles);
      const double z = stats::normal_quantile(sine * sine);
      double log_weight = -0.5 * u * u;
      for (const auto& test : tests) {
        const double p = stats::normal_lower(z + (newest - test.day) / sigma);
        log_weight += log_height(test.count, std::min(p, 1 - 1e-15), rho);
      }
      const double weight = std::exp(log_weight + 100);
      all += weight;
      above += weight * read(stats::normal_lower(z - (day - newest) / sigma));
    }
  }
  return above / all;
}

}  // namespace

TEST_CASE("on the day of its test a lot is what the tray-aware posterior says") {
  const stats::RhoPrior towels = stats::rho_from_beta(stats::rho_b_towels_and_dishes);
  const std::vector<std::vector<stats::TrayCount>> cases = {
      {{7, 10}}, {{0, 20}}, {{50, 50}}, {{18, 20}, {15, 20}}, {{310, 400}}};
  for (const auto& trays : cases) {
    std::vector<AgedTest> tests;
    for (const auto& tray : trays) tests.push_back({1000, Ground::towel, tray});
    const auto lot = AgedLot::tested(tests, stats::ageing_by_lists(3), towels);
    const stats::TrayAwarePosterior posterior(trays, towels);
    for (const double share : {0.05, 0.3, 0.55, 0.7, 0.8, 0.95})
      CHECK_WITHIN(lot.chance_at_least(share, 1000), posterior.probability_at_least(share), 1e-3);
    for (const double q : {0.025, 0.1, 0.5, 0.9, 0.975})
      CHECK_WITHIN(lot.quantile(q, 1000), posterior.quantile(q), 1e-3);
    CHECK_WITHIN(lot.mean(1000), posterior.mean(), 1e-3);
    CHECK_WITHIN(lot.interval(0.95, 1000).lower, posterior.interval(0.95).lower, 1e-3);
    CHECK_WITHIN(lot.interval(0.95, 1000).upper, posterior.interval(0.95).upper, 1e-3);
  }
}

TEST_CASE("tests of different ages, carried on, as plain sums over p and sigma give" *
          doctest::skip(plumule::tests::sanitized)) {
  const std::vector<AgedTest> tests = {{0, Ground::towel, {46, 50}},
                                       {2 * year, Ground::towel, {38, 50}}};
  const auto rate = stats::ageing_by_lists(3);
  for (const double rho : {0.0, 0.05}) {
    const auto lot = AgedLot::tested(tests, rate, stats::rho_fixed_at(rho));
    CHECK(lot.reference_day() == 2 * year);
    for (const double day : {0.0, 2 * year, 3.5 * year}) {
      CAPTURE(day);
      const double expected =
          by_plain_sums(tests, rate, rho, day, [](double p) { return p >= 0.6 ? 1.0 : 0.0; });
      CHECK_WITHIN(lot.chance_at_least(0.6, day), expected, 1.5e-3);
      CHECK_WITHIN(lot.mean(day), by_plain_sums(tests, rate, rho, day, [](double p) { return p; }),
                   1e-3);
    }
  }
}

TEST_CASE("a test years ago says less, and less good, of today") {
  const std::vector<AgedTest> tests = {{0, Ground::towel, {18, 20}}};
  const auto lot = AgedLot::tested(tests, stats::ageing_by_lists(2), stats::rho_from_beta(49));
  CHECK(lot.chance_at_least(0.6, 0) > 0.99);
  double before = 1;
  for (int years = 1; years <= 8; ++years) {
    const double chance = lot.chance_at_least(0.6, years * year);
    CHECK(chance < before);
    before = chance;
  }
  const auto now = lot.interval(0.95, 5 * year);
  CHECK(now.upper - now.lower > 0.6);
}

TEST_CASE("untested seed goes by its harvest, in closed form at first") {
  const auto lot = AgedLot::untested(100, stats::ageing_by_lists(4), stats::rho_from_beta(24));
  for (const double share : {0.5, 0.8, 0.919, 0.99}) {
    const double expected = stats::normal_upper((stats::normal_quantile(share) - 1.4) / 0.5);
    CHECK_WITHIN(lot.chance_at_least(share, 100), expected, 2e-3);
  }
  // Later: probit p is N(1.4 - age / sigma, 0.5^2) at each sigma.
  const auto rate = stats::ageing_by_lists(4);
  double expected = 0, all = 0;
  for (double u = -3; u <= 3.0001; u += 0.01) {
    const double sigma = rate.days * std::exp(0.7 * u), weight = std::exp(-0.5 * u * u);
    expected +=
        weight * stats::normal_upper((stats::normal_quantile(0.7) - 1.4 + 3 * year / sigma) / 0.5);
    all += weight;
  }
  CHECK_WITHIN(lot.chance_at_least(0.7, 100 + 3 * year), expected / all, 3e-3);
}

TEST_CASE("the day it falls below a share is the day of that chance") {
  const std::vector<AgedTest> tests = {{0, Ground::towel, {45, 50}},
                                       {500, Ground::towel, {40, 50}}};
  const auto lot = AgedLot::tested(tests, stats::ageing_by_lists(3), stats::rho_from_beta(49));
  double before = -1e9;
  for (const double q : {0.05, 0.1, 0.5, 0.95}) {
    const auto day = lot.falls_below(0.7, q);
    REQUIRE(day);
    CHECK(*day > before);
    CHECK_WITHIN(lot.chance_at_least(0.7, *day), 1 - q, 1e-9);
    before = *day;
  }
  // Seed that keeps for centuries has no such day.
  const auto keeps = AgedLot::tested(tests, {1e6, 0.1}, stats::rho_from_beta(49));
  CHECK_FALSE(keeps.falls_below(0.05, 0.5));
}

TEST_CASE("what comes up in soil tells of the seed through what soil gives") {
  // p by plain sums over p and over f, each in its density; independent seeds.
  const stats::TrayCount tray{8, 20};
  const std::vector<AgedTest> tests = {{0, Ground::outdoors, tray}};
  const auto lot = AgedLot::tested(tests, stats::ageing_by_lists(3), stats::rho_fixed_at(0));
  double above = 0, all = 0;
  for (int i = 0; i < 1000; ++i) {
    const double sine = std::sin((i + 0.5) * std::numbers::pi / 2000), p = sine * sine;
    double height = 0;
    for (int j = 0; j < 1000; ++j) {
      const double f = (j + 0.5) / 1000;
      const double density = 0.9 * 20 * f * f * f * (1 - f) + 0.1 * 9 * std::pow(1 - f, 8);
      height += density / 1000 * std::exp(log_height(tray, f * p, 0));
    }
    all += height;
    if (p >= 0.6) above += height;
  }
  CHECK_WITHIN(lot.chance_at_least(0.6, 0), above / all, 5e-3);
  // Beds of one day fail together; of two days hardly.
  const auto chance_of = [&](double second_day) {
    const std::vector<AgedTest> beds = {{0, Ground::outdoors, {0, 50}},
                                        {second_day, Ground::outdoors, {0, 50}}};
    return AgedLot::tested(beds, stats::ageing_by_lists(3), stats::rho_from_beta(14))
        .chance_at_least(0.55, second_day);
  };
  CHECK(chance_of(0) > 2 * chance_of(10));
  // Nothing up in a bed condemns no seed; nothing up in a towel does.
  const std::vector<AgedTest> bed = {{0, Ground::outdoors, {0, 100}}};
  const std::vector<AgedTest> towel = {{0, Ground::towel, {0, 100}}};
  const auto rate = stats::ageing_by_lists(3);
  const auto prior = stats::rho_from_beta(14);
  CHECK(AgedLot::tested(bed, rate, prior).chance_at_least(0.55, 0) > 0.05);
  CHECK(AgedLot::tested(towel, rate, prior).chance_at_least(0.55, 0) < 1e-3);
}

TEST_CASE("order, the first day and the unit of time are nothing; a rise slows the ageing") {
  const std::vector<AgedTest> tests = {{0, Ground::towel, {30, 40}},
                                       {400, Ground::towel, {25, 40}}};
  const std::vector<AgedTest> moved = {{1400, Ground::towel, {25, 40}},
                                       {1000, Ground::towel, {30, 40}}};
  const std::vector<AgedTest> halves = {{0, Ground::towel, {30, 40}},
                                        {800, Ground::towel, {25, 40}}};
  const auto prior = stats::rho_from_beta(49);
  const auto lot = AgedLot::tested(tests, {1000, 0.7}, prior);
  const double chance = lot.chance_at_least(0.5, 700);
  CHECK_CLOSE(AgedLot::tested(moved, {1000, 0.7}, prior).chance_at_least(0.5, 1700), chance, 1e-9);
  CHECK_CLOSE(AgedLot::tested(halves, {2000, 0.7}, prior).chance_at_least(0.5, 1400), chance, 1e-9);
  const std::vector<AgedTest> rising = {{0, Ground::towel, {25, 40}},
                                        {400, Ground::towel, {32, 40}}};
  CHECK(AgedLot::tested(rising, {1000, 0.7}, prior).days_to_lose_a_probit() > 1000);
  const std::vector<AgedTest> falling = {{0, Ground::towel, {38, 40}},
                                         {400, Ground::towel, {15, 40}}};
  CHECK(AgedLot::tested(falling, {1000, 0.7}, prior).days_to_lose_a_probit() < 1000);
}

TEST_CASE("points add to one, rise in p and mean what the whole does") {
  const std::vector<AgedTest> tests = {{0, Ground::towel, {13, 20}}};
  const auto lot = AgedLot::tested(tests, stats::ageing_by_lists(3), stats::rho_from_beta(49));
  const auto points = lot.points(600);
  double sum = 0, before = 0, above = 0;
  for (const auto& point : points) {
    CHECK(point.p >= before);
    before = point.p;
    sum += point.weight;
    above += point.p >= 0.5 ? point.weight : 0;
  }
  CHECK_CLOSE(sum, 1, 1e-12);
  CHECK_WITHIN(above, lot.chance_at_least(0.5, 600), 0.03);
}

TEST_CASE("a thousand million seeds, and tests that contradict each other, still give an answer") {
  const auto rate = stats::ageing_by_lists(3);
  for (const auto& prior : {stats::rho_fixed_at(0), stats::rho_from_beta(49)}) {
    const std::vector<AgedTest> huge = {{0, Ground::towel, {800'000'000, 1'000'000'000}}};
    const auto lot = AgedLot::tested(huge, rate, prior);
    CHECK(lot.chance_at_least(0.3, 0) > 0.97);
    CHECK_WITHIN(lot.mean(0), 0.8, 0.02);
    const std::vector<AgedTest> apart = {{0, Ground::towel, {0, 5000}},
                                         {30, Ground::towel, {5000, 5000}}};
    const double chance = AgedLot::tested(apart, rate, prior).chance_at_least(0.5, 60);
    CHECK(chance >= 0);
    CHECK(chance <= 1);
  }
}

TEST_CASE("what no lot can be is refused") {
  const auto rate = stats::ageing_by_lists(3);
  const auto prior = stats::rho_from_beta(49);
  const std::vector<AgedTest> none, wrong = {{0, Ground::towel, {11, 10}}};
  CHECK_THROWS_AS(AgedLot::tested(none, rate, prior), std::domain_error);
  CHECK_THROWS_AS(AgedLot::tested(wrong, rate, prior), std::domain_error);
  CHECK_THROWS_AS(AgedLot::untested(0, {0, 0.7}, prior), std::domain_error);
  const auto lot = AgedLot::untested(0, rate, prior);
  CHECK_THROWS_AS(lot.falls_below(1.0, 0.5), std::domain_error);
  CHECK_THROWS_AS(lot.interval(1.0, 0), std::domain_error);
  CHECK(lot.chance_at_least(0, 0) == 1);
  CHECK(lot.chance_at_least(1.5, 0) == 0);
}
