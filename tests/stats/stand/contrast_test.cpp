// The difference of two treatments against the slow program, and what its parts say of one another.
#include "stats/stand/contrast.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "slow_stand.hpp"
#include "support/close.hpp"

using namespace plumule::stats;
using plumule::tests::SlowStand;

namespace {

const auto prior = rho_from_beta(24);

double nearer_half(double a, double b) {
  if ((a > 0.5) != (b > 0.5)) return 0.5;
  return a > 0.5 ? std::min(a, b) : std::max(a, b);
}

// Treatment 1 against 0, in every figure; `near`: how close the three points over the shared angle
// come to the integral.
void check_against_slow(const std::vector<PlacedUnit>& units, double near,
                        bool finite_mean = true) {
  const auto fast = contrast(StandModel(units, 2, prior), 1, 0);
  const SlowStand slow(units, 24);
  const auto chance = [&](double d) { return nearer_half(slow.above(d, 0), slow.above(d, 1)); };
  if (finite_mean) CHECK_WITHIN(fast.estimate, slow.mean(1) - slow.mean(0), 2e-6);
  CHECK_WITHIN(fast.p_better, chance(0), 3e-6);
  CHECK_WITHIN(fast.p_worth, chance(0.1), near);
  CHECK_WITHIN(fast.p_worth_less, 1 - chance(-0.1), near);
  const auto within = [&](std::size_t w) { return slow.above(-0.1, w) - slow.above(0.1, w); };
  CHECK_WITHIN(fast.p_within, std::min(within(0), within(1)), 2 * near);
  const auto& range = fast.range;
  if (range.lower > -1 && range.lower < fast.estimate)
    CHECK_WITHIN(1 - std::min(slow.above(range.lower, 0), slow.above(range.lower, 1)), 0.025, near);
  if (range.upper < 1 && range.upper > fast.estimate)
    CHECK_WITHIN(std::max(slow.above(range.upper, 0), slow.above(range.upper, 1)), 0.025, near);
}

}  // namespace

TEST_CASE("even trays, one stratum, against the slow program") {
  check_against_slow({{0, 0, 18, 25},
                      {0, 0, 15, 25},
                      {0, 0, 12, 25},
                      {0, 0, 16, 25},
                      {1, 0, 20, 25},
                      {1, 0, 22, 25},
                      {1, 0, 19, 25},
                      {1, 0, 23, 25}},
                     1e-5);
  // no spread at all
  check_against_slow({{0, 0, 20, 30}, {0, 0, 20, 30}, {1, 0, 26, 30}, {1, 0, 26, 30}}, 3e-4);
}

TEST_CASE("blocks with uneven shares against the slow program") {
  check_against_slow({{1, 0, 46, 50},
                      {1, 0, 47, 50},
                      {1, 0, 46, 50},
                      {1, 0, 47, 50},
                      {0, 0, 47, 50},
                      {0, 1, 19, 50},
                      {0, 1, 20, 50},
                      {0, 1, 21, 50},
                      {0, 1, 19, 50}},
                     5e-4);
  check_against_slow({{1, 1, 80, 100},
                      {1, 1, 81, 100},
                      {1, 1, 79, 100},
                      {1, 0, 10, 100},
                      {0, 1, 92, 100},
                      {0, 0, 22, 100},
                      {0, 0, 21, 100}},
                     1e-5);
}

TEST_CASE("trays of unlike size, and near the ends, against the slow program") {
  check_against_slow({{1, 0, 50, 100},
                      {1, 0, 9, 10},
                      {1, 0, 9, 10},
                      {1, 0, 9, 10},
                      {0, 0, 75, 100},
                      {0, 0, 5, 10},
                      {0, 0, 5, 10},
                      {0, 0, 5, 10}},
                     4e-5);
  check_against_slow({{1, 0, 49, 50},
                      {1, 0, 50, 50},
                      {1, 0, 48, 50},
                      {0, 0, 44, 50},
                      {0, 0, 40, 50},
                      {0, 0, 47, 50}},
                     1e-3);
  check_against_slow({{1, 0, 30, 30}, {1, 0, 30, 30}, {0, 0, 0, 30}, {0, 0, 0, 30}}, 1e-3, false);
  // one seed a unit
  check_against_slow(
      {{1, 0, 1, 1}, {1, 0, 1, 1}, {1, 0, 0, 1}, {0, 0, 0, 1}, {0, 0, 0, 1}, {0, 0, 1, 1}}, 4e-3);
}

TEST_CASE("in the only shared block there is no difference, whatever the blocks do") {
  const auto difference = contrast(StandModel(std::vector<PlacedUnit>{{1, 0, 46, 50},
                                                                      {1, 0, 47, 50},
                                                                      {1, 0, 46, 50},
                                                                      {1, 0, 47, 50},
                                                                      {0, 0, 47, 50},
                                                                      {0, 1, 19, 50},
                                                                      {0, 1, 20, 50},
                                                                      {0, 1, 21, 50},
                                                                      {0, 1, 19, 50}},
                                              2, prior),
                                   1, 0);
  CHECK(difference.told_apart);
  CHECK_FALSE(difference.gaps_filled);
  CHECK_CLOSE(difference.estimate, -0.01, 1e-6);
  CHECK(difference.range.lower < -0.05);
  CHECK(difference.range.upper > 0.05);
  CHECK(difference.p_better < 0.6);
}

TEST_CASE("strata and treatments that cannot be told apart: nothing is said") {
  const auto difference = contrast(
      StandModel(std::vector<PlacedUnit>{{1, 0, 46, 50}, {1, 0, 47, 50}, {0, 1, 20, 50}}, 2, prior),
      1, 0);
  CHECK_FALSE(difference.told_apart);
  CHECK_FALSE(difference.can_claim());
  CHECK(difference.range.lower == -1);
  CHECK(difference.range.upper == 1);
  CHECK(difference.p_better == 0.5);
}

TEST_CASE("labels swapped mirror everything") {
  const std::vector<PlacedUnit> trials[] = {
      {{0, 0, 18, 25},
       {0, 0, 15, 50},
       {1, 0, 20, 25},
       {1, 1, 22, 25},
       {0, 1, 19, 30},
       {1, 1, 23, 25}},
      // Trays so unlike that percentages reach beyond 0 and 100 %, where they are flat.
      {{1, 0, 0, 35}, {1, 0, 18, 35}, {1, 0, 0, 35}, {1, 0, 16, 35}, {0, 0, 19, 35}},
      {{0, 0, 63, 63}, {1, 0, 61, 63}, {1, 0, 57, 63}}};
  for (const auto& units : trials) {
    const StandModel model(units, 2, prior);
    const auto one = contrast(model, 1, 0), other = contrast(model, 0, 1);
    CHECK_CLOSE(one.estimate, -other.estimate, 1e-12);
    CHECK_CLOSE(one.range.lower, -other.range.upper, 1e-7);
    CHECK_CLOSE(one.range.upper, -other.range.lower, 1e-7);
    CHECK_CLOSE(one.p_better, 1 - other.p_better, 1e-9);
    CHECK_CLOSE(one.p_worth, other.p_worth_less, 1e-7);
    CHECK_CLOSE(one.p_within, other.p_within, 1e-7);
  }
}

TEST_CASE("the range is clear of 0 just where the tail is under its level") {
  const StandModel model(
      std::vector<PlacedUnit>{{0, 0, 15, 30}, {0, 0, 18, 30}, {1, 0, 22, 30}, {1, 0, 23, 30}}, 2,
      prior);
  const double tail = contrast(model, 1, 0).tail();
  CHECK(contrast(model, 1, 0, 0.1, 1 - 1.001 * tail).range.lower > 0);
  CHECK(contrast(model, 1, 0, 0.1, 1 - 0.999 * tail).range.lower < 0);
}

TEST_CASE("the Bayes factor at a fixed rho is a ratio of two normal densities") {
  const std::vector<PlacedUnit> units{
      {0, 0, 15, 30}, {0, 0, 18, 30}, {1, 0, 26, 30}, {1, 0, 27, 30}};
  const StandModel model(units, 2, rho_fixed_at(0.02));
  const auto& node = model.nodes().front();
  const double t = node.angle[1] - node.angle[0];
  // Independent treatments, each worth 60 / (1 + 29 * 0.02) seeds: variance 1 / (4 worth).
  const double variance = 2 / (4 * 60 / 1.58);
  const double expected = std::sqrt(variance / (variance + 0.04)) *
                          std::exp(t * t / 2 * (1 / variance - 1 / (variance + 0.04)));
  CHECK_CLOSE(contrast(model, 1, 0).bayes_factor, expected, 1e-6);
  CHECK_CLOSE(contrast(model, 0, 1).bayes_factor, expected, 1e-6);
  // trays alike: evidence for no difference
  const StandModel alike(
      std::vector<PlacedUnit>{{0, 0, 20, 30}, {1, 0, 20, 30}, {0, 0, 19, 30}, {1, 0, 19, 30}}, 2,
      prior);
  CHECK(contrast(alike, 1, 0).bayes_factor < 1);
}

TEST_CASE("a treatment with few trays that spread more than the other's is named") {
  std::vector<PlacedUnit> units{{1, 0, 2, 50}, {1, 0, 48, 50}, {1, 0, 40, 50}};
  for (const int x : {30, 31, 29, 30, 32, 28, 30, 31, 30, 29}) units.push_back({0, 0, x, 50});
  const StandModel model(units, 2, prior);
  CHECK(contrast(model, 1, 0).spreads_more == 1);
  CHECK(contrast(model, 0, 1).spreads_more == 1);
  for (auto& unit : units) unit.treatment = 1 - unit.treatment;
  CHECK(contrast(StandModel(units, 2, prior), 1, 0).spreads_more == 0);
  // the same scatter in the treatment with more trays is no danger
  std::vector<PlacedUnit> other{{1, 0, 30, 50}, {1, 0, 30, 50}, {1, 0, 31, 50}};
  for (const int x : {2, 48, 40, 10, 50, 22, 30, 45, 5, 29}) other.push_back({0, 0, x, 50});
  CHECK_FALSE(contrast(StandModel(other, 2, prior), 1, 0).spreads_more);
}

TEST_CASE("what cannot be asked for is refused") {
  const StandModel model(std::vector<PlacedUnit>{{0, 0, 15, 30}, {1, 0, 18, 30}}, 3, prior);
  CHECK_THROWS_AS(contrast(model, 0, 0), std::domain_error);
  CHECK_THROWS_AS(contrast(model, 0, 2), std::domain_error);
  CHECK_THROWS_AS(contrast(model, 0, 3), std::domain_error);
  CHECK_THROWS_AS(contrast(model, 1, 0, 0), std::domain_error);
  CHECK_THROWS_AS(contrast(model, 1, 0, 0.1, 1), std::domain_error);
}
