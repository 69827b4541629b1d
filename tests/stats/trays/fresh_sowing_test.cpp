// What another test would show: against the closed form without resemblance, and by brute force.
#include "stats/trays/fresh_sowing.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <stdexcept>

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
