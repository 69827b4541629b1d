// What another test would show: against the closed form without resemblance, by brute force, and
// tray by tray.
#include "stats/trays/fresh_sowing.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>
#include <stdexcept>
#include <vector>

#include "stats/trays/tray_aware.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

double log_beta(double a, double b) { return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b); }

double choose(double n, double x) {
  return std::exp(std::lgamma(n + 1) - std::lgamma(x + 1) - std::lgamma(n - x + 1));
}

}  // namespace

TEST_CASE("with seeds independent the next sowing is beta-binomial in closed form") {
  // p | data ~ Beta(7.5, 3.5) from 7 of 10 under Beta(1/2, 1/2): textbook predictive.
  const stats::TrayCount tested[] = {{7, 10}};
  const auto chances = stats::fresh_sowing_chances(tested, stats::rho_fixed_at(0), 12);
  REQUIRE(chances.size() == 13);
  for (int x = 0; x <= 12; ++x) {
    const double expected =
        choose(12, x) * std::exp(log_beta(7.5 + x, 3.5 + 12 - x) - log_beta(7.5, 3.5));
    CHECK_CLOSE(chances[static_cast<std::size_t>(x)], expected, 1e-6);
  }
}

TEST_CASE("chances add to one, and mirror with the counts") {
  const stats::TrayCount tested[] = {{18, 20}, {12, 20}};
  const stats::TrayCount mirror[] = {{2, 20}, {8, 20}};
  const auto prior = stats::rho_from_beta(24);
  const auto chances = stats::fresh_sowing_chances(tested, prior, 25);
  const auto back = stats::fresh_sowing_chances(mirror, prior, 25);
  CHECK_CLOSE(std::accumulate(chances.begin(), chances.end(), 0.0), 1, 1e-12);
  for (std::size_t x = 0; x < chances.size(); ++x)
    CHECK_CLOSE(chances[x], back[chances.size() - 1 - x], 1e-5);
}

TEST_CASE("seed that is alike within a sowing spreads the next one wider") {
  const stats::TrayCount tested[] = {{40, 50}, {39, 50}, {41, 50}, {40, 50}};
  const auto spread = [&](double rho) {
    const auto chances = stats::fresh_sowing_chances(tested, stats::rho_fixed_at(rho), 50);
    double mean = 0;
    double square = 0;
    for (std::size_t x = 0; x < chances.size(); ++x) {
      mean += chances[x] * static_cast<double>(x);
      square += chances[x] * static_cast<double>(x * x);
    }
    return square - mean * mean;
  };
  CHECK(spread(0.1) > 2 * spread(0.0));
}

TEST_CASE("a fresh sowing of no seeds, or of too many, is a mistake") {
  const stats::TrayCount tested[] = {{7, 10}};
  const auto prior = stats::rho_from_beta(24);
  CHECK_THROWS_AS(stats::fresh_sowing_chances(tested, prior, 0), std::domain_error);
  CHECK_THROWS_AS(stats::fresh_sowing_chances(tested, prior, 1001), std::domain_error);
}

namespace {

// The beta-binomial in closed form.
std::vector<double> one_tray(int n, double p, double rho) {
  const double a = p * (1 - rho) / rho, b = (1 - p) * (1 - rho) / rho;
  std::vector<double> chances;
  for (int x = 0; x <= n; ++x)
    chances.push_back(choose(n, x) * std::exp(log_beta(a + x, b + n - x) - log_beta(a, b)));
  return chances;
}

std::vector<double> convolved(const std::vector<double>& one, const std::vector<double>& other) {
  std::vector<double> both(one.size() + other.size() - 1);
  for (std::size_t i = 0; i < one.size(); ++i)
    for (std::size_t j = 0; j < other.size(); ++j) both[i + j] += one[i] * other[j];
  return both;
}

}  // namespace

TEST_CASE("what is foretold is the ratio of the evidence with it and without it") {
  // The evidence is integrated by a Chebyshev series over the angle: another way to the same sum.
  const auto prior = stats::rho_from_beta(24);
  const std::vector<std::vector<stats::TrayCount>> lots = {{{7, 10}},
                                                           {{18, 20}, {12, 20}},
                                                           {{3000, 4000}},
                                                           {{0, 50}},
                                                           {{90, 100}, {80, 100}, {95, 100}}};
  for (auto trays : lots) {
    const auto chances = stats::fresh_sowing_chances(trays, prior, 30);
    const double before = stats::TrayAwarePosterior(trays, prior).log_evidence();
    trays.push_back({0, 30});
    for (const std::int64_t x : {0, 1, 15, 27, 30}) {
      trays.back().up = x;
      const double with = stats::TrayAwarePosterior(trays, prior).log_evidence();
      CHECK_WITHIN(chances[static_cast<std::size_t>(x)],
                   choose(30, static_cast<double>(x)) * std::exp(with - before), 1e-9);
    }
  }
}

TEST_CASE("of one tray the chances are those of the beta-binomial") {
  for (const double p : {0.02, 0.5, 0.9})
    for (const double rho : {0.001, 0.1, 0.9}) {
      const stats::LotPoint lot[] = {{p, rho, 1}};
      const std::int64_t sown[] = {40};
      const auto chances = stats::fresh_test_chances(lot, sown);
      const auto exact = one_tray(40, p, rho);
      for (std::size_t x = 0; x < exact.size(); ++x) CHECK_WITHIN(chances[x], exact[x], 1e-9);
    }
}

namespace {

// The largest miss of a tail with half of its last chance, where the exact one is under 5 %.
double worst_tail(const std::vector<std::int64_t>& sown) {
  double worst = 0;
  for (const double p : {0.5, 0.8, 0.95})
    for (const double rho : {0.02, 0.05, 0.15}) {
      std::vector<double> exact{1};
      for (const auto n : sown) exact = convolved(exact, one_tray(static_cast<int>(n), p, rho));
      const stats::LotPoint lot[] = {{p, rho, 1}};
      const auto chances = stats::fresh_test_chances(lot, sown);
      double below = 0, exactly_below = 0;
      for (std::size_t x = 0; x < exact.size(); ++x) {
        const double tail = below + chances[x] / 2, exact_tail = exactly_below + exact[x] / 2;
        if (exact_tail < 0.05 || exact_tail > 0.95)
          worst = std::max(worst, std::fabs(tail - exact_tail));
        below += chances[x];
        exactly_below += exact[x];
      }
    }
  return worst;
}

}  // namespace

TEST_CASE("of several trays the total is reckoned tray by tray, and of many nearly so") {
  CHECK(worst_tail({10, 10}) < 1e-9);
  CHECK(worst_tail({50, 10, 25}) < 1e-9);
  CHECK(worst_tail({300, 300, 400}) < 1e-9);
  CHECK(worst_tail(std::vector<std::int64_t>(11, 100)) < 0.01);
  CHECK(worst_tail(std::vector<std::int64_t>(44, 25)) < 0.01);
  CHECK(worst_tail({900, 200}) < 0.025);
}

TEST_CASE("a test that the others foretell has a mid-p near one half, and mirrors") {
  const auto prior = stats::rho_from_beta(49);
  const stats::TrayCount older[] = {{45, 50}}, mirror[] = {{5, 50}};
  const auto mid = [&](std::span<const stats::TrayCount> lot, std::int64_t up, std::int64_t of) {
    const stats::TrayCount fresh[] = {{up, of}};
    return stats::fresh_test_mid_p(stats::lot_belief(lot, prior, of), fresh);
  };
  CHECK(mid(older, 45, 50) > 0.4);
  CHECK(mid(older, 25, 50) < 0.005);
  CHECK(mid(older, 50, 50) > 0.025);
  for (const std::int64_t up : {20, 25, 40, 49})
    CHECK_CLOSE(mid(older, up, 50), mid(mirror, 50 - up, 50), 1e-9);
  // By hand: seeds independent, 1 of 1 up leaves Beta(3/2, 1/2), so the next comes up in 3/4.
  const stats::TrayCount one[] = {{1, 1}}, none[] = {{0, 1}};
  const auto lot = stats::lot_belief(one, stats::rho_fixed_at(0), 1);
  CHECK_CLOSE(stats::fresh_test_mid_p(lot, none), 0.125, 1e-12);
}

TEST_CASE("tests of thousands of seeds are foretold as smoothly as smaller ones") {
  // 2,000 seeds are reckoned one by one, 20,000 as a beta variable; their own chance adds little.
  const auto prior = stats::rho_from_beta(49);
  const stats::TrayCount older[] = {{45, 50}};
  const auto lot = stats::lot_belief(older, prior, 20'000);
  for (const std::int64_t up : {1200, 1500, 1800, 1950}) {
    const stats::TrayCount counted[] = {{up, 2000}}, smooth[] = {{10 * up, 20'000}};
    CHECK_WITHIN(stats::fresh_test_mid_p(lot, counted), stats::fresh_test_mid_p(lot, smooth),
                 0.002);
  }
  const stats::TrayCount vast[] = {{900'000'000, 1'000'000'000}};
  CHECK(stats::fresh_test_mid_p(stats::lot_belief(older, prior, vast[0].sown), vast) > 0.2);
}

TEST_CASE("moving the points of a lot moves what is foretold") {
  const auto prior = stats::rho_from_beta(49);
  const stats::TrayCount older[] = {{45, 50}}, fresh[] = {{30, 50}};
  auto lot = stats::lot_belief(older, prior, 50);
  double sum = 0;
  for (const auto& point : lot) sum += point.weight;
  CHECK_CLOSE(sum, 1, 1e-12);
  const double before = stats::fresh_test_mid_p(lot, fresh);
  for (auto& point : lot) point.p *= 0.8;
  CHECK(stats::fresh_test_mid_p(lot, fresh) > 3 * before);
}

TEST_CASE("a fresh test without trays, or of more up than sown, is a mistake") {
  const auto prior = stats::rho_from_beta(24);
  const stats::TrayCount older[] = {{7, 10}}, wrong[] = {{11, 10}};
  const auto lot = stats::lot_belief(older, prior, 10);
  CHECK_THROWS_AS(stats::fresh_test_mid_p(lot, {}), std::domain_error);
  CHECK_THROWS_AS(stats::fresh_test_mid_p(lot, wrong), std::domain_error);
  CHECK_THROWS_AS(stats::fresh_test_chances(lot, {}), std::domain_error);
  const std::int64_t too_many[] = {2001};
  CHECK_THROWS_AS(stats::fresh_test_chances(lot, too_many), std::domain_error);
  CHECK_THROWS_AS(stats::lot_belief(older, prior, 0), std::domain_error);
  const double chances[] = {0.5, 0.5};
  CHECK_THROWS_AS(stats::mid_p(chances, 2), std::domain_error);
}
