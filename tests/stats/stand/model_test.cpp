// Each treatment's mean and range, and the two weighings of rho, against a slow program; and what
// the model says where trials are lean.
#include "stats/stand/model.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

const auto prior = rho_from_beta(24);

std::vector<PlacedUnit> trays(int treatment, int stratum, std::vector<int> up, int sown) {
  std::vector<PlacedUnit> made;
  for (const int x : up) made.push_back({treatment, stratum, x, sown});
  return made;
}

std::vector<PlacedUnit> operator+(std::vector<PlacedUnit> a, const std::vector<PlacedUnit>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

}  // namespace

TEST_CASE("equal trays in whole strata: the plain means") {
  const StandModel one(trays(1, 0, {26, 26, 26, 26}, 30) + trays(0, 0, {20, 21, 19, 20}, 30), 2,
                       prior);
  CHECK_CLOSE(one.mean(1), 26.0 / 30, 1e-8);
  CHECK_CLOSE(one.mean(0), 20.0 / 30, 1e-8);
  const StandModel blocks(trays(1, 0, {45, 44}, 50) + trays(0, 0, {41, 38}, 50) +
                              trays(1, 9, {30, 26}, 50) + trays(0, 9, {20, 19}, 50),
                          2, prior);
  CHECK_CLOSE(blocks.mean(1), 145.0 / 200, 1e-8);
  CHECK_CLOSE(blocks.mean(0), 118.0 / 200, 1e-8);
}

TEST_CASE("a mean lies in its range, all up and nothing up at its end") {
  const StandModel model(trays(1, 0, {30, 30}, 30) + trays(0, 0, {0, 0}, 30), 2, prior);
  CHECK(model.mean(1) == 1);
  CHECK(model.range(1).upper == 1);
  CHECK(model.range(1).lower > 0.75);
  CHECK(model.range(1).lower < 0.95);
  CHECK(model.mean(0) == 0);
  CHECK(model.range(0).lower == 0);
  CHECK_CLOSE(model.range(0).upper, 1 - model.range(1).lower, 1e-6);
  CHECK(model.range(0).method == method::standardised);
}

TEST_CASE("treatments that strata contradict have the same means by whatever label") {
  // In stratum 0 treatment 0 stands better, in 1 treatment 1: Newton's bare steps never settle
  // here.
  std::vector<PlacedUnit> units{{0, 0, 28, 28},   {0, 1, 0, 3},     {0, 1, 13, 18},
                                {0, 1, 9, 14},    {1, 0, 25, 68},   {1, 1, 6, 8},
                                {1, 1, 195, 195}, {0, 0, 123, 253}, {1, 0, 2, 2}};
  const StandModel model(units, 2, prior);
  for (auto& unit : units) unit.treatment = 1 - unit.treatment;
  std::reverse(units.begin(), units.end());
  const StandModel turned(units, 2, prior);
  for (const int t : {0, 1}) {
    CHECK_WITHIN(turned.mean(1 - t), model.mean(t), 1e-6);
    CHECK_WITHIN(turned.range(1 - t).lower, model.range(t).lower, 1e-5);
    CHECK_WITHIN(turned.range(1 - t).upper, model.range(t).upper, 1e-5);
  }
}

TEST_CASE("a higher level gives a wider range") {
  const StandModel model(trays(0, 0, {12, 18, 15}, 25), 1, prior);
  CHECK(model.range(0, 0.8).lower > model.range(0, 0.95).lower);
  CHECK(model.range(0, 0.8).upper < model.range(0, 0.95).upper);
  CHECK_THROWS_AS(model.range(0, 1), std::domain_error);
}

TEST_CASE("trays that differ show in rho by this trial") {
  const StandModel alike(trays(0, 0, {40, 41, 39, 40, 40, 41}, 50), 1, prior);
  const StandModel unlike(trays(0, 0, {50, 30, 45, 25, 48, 41}, 50), 1, prior);
  CHECK(alike.rho_by_trial() < 0.02);
  CHECK(unlike.rho_by_trial() > 0.1);
  CHECK(unlike.rho_at_large() < unlike.rho_by_trial());
  CHECK(unlike.range(0).lower < alike.range(0).lower);
}

TEST_CASE("a rho that is fixed is one point in both weighings") {
  const StandModel model(trays(0, 0, {40, 35}, 50), 1, rho_fixed_at(0.05));
  REQUIRE(model.nodes().size() == 1);
  CHECK(model.rho_by_trial() == 0.05);
  CHECK(model.rho_at_large() == 0.05);
  // 100 seeds worth 100 / (1 + 49 * 0.05), an angle of sd 1 / (2 sqrt of that) about Firth's mean
  const double worth = 100 / 3.45,
               centre = std::asin(std::sqrt((0.75 * worth + 0.5) / (worth + 1)));
  const double end = std::sin(centre - 1.959964 / (2 * std::sqrt(worth)));
  CHECK_CLOSE(model.range(0).lower, end * end, 1e-5);
}

TEST_CASE("lean trials have finite, sensible figures") {
  for (const auto& units : {trays(0, 0, {0}, 1), trays(0, 0, {1}, 1), trays(0, 0, {50}, 50),
                            trays(0, 0, {1, 0, 1, 1, 0}, 1),
                            trays(0, 0, {1}, 1) + trays(0, 1, {0}, 1) + trays(0, 2, {5}, 5),
                            trays(0, 0, {999'000, 1'000'000}, 1'000'000)}) {
    const StandModel model(units, 1, prior);
    CHECK(model.mean(0) >= 0);
    CHECK(model.mean(0) <= 1);
    CHECK(model.range(0).lower <= model.mean(0));
    CHECK(model.range(0).upper >= model.mean(0));
    CHECK(model.range(0).upper - model.range(0).lower > 1e-4);
    CHECK(std::isfinite(model.rho_by_trial()));
    CHECK(std::isfinite(model.rho_at_large()));
  }
}

TEST_CASE("shares of rho add up to 1 in both weighings") {
  const StandModel model(trays(0, 0, {12, 18, 15}, 25) + trays(1, 0, {3, 8}, 40), 2, prior);
  double by_trial = 0, at_large = 0;
  for (const auto& node : model.nodes()) {
    by_trial += node.by_trial;
    at_large += node.at_large;
    CHECK(node.rho >= 0);
    CHECK(node.rho < 1);
  }
  CHECK_CLOSE(by_trial, 1, 1e-12);
  CHECK_CLOSE(at_large, 1, 1e-12);
}

TEST_CASE("the spread of a treatment is Pearson's, of its units less what was fitted") {
  const StandModel model(trays(0, 0, {25, 25, 25}, 50) + trays(1, 0, {10, 40, 25}, 50), 2, prior);
  CHECK(model.spread(0).pearson < 0.01);
  CHECK(model.spread(1).pearson > 1);
  CHECK_CLOSE(model.spread(0).df, 2, 1e-6);
  CHECK_CLOSE(model.spread(1).df, 2, 1e-6);
}

TEST_CASE("treatments without units, and priors that cannot be, are refused") {
  const StandModel model(trays(0, 0, {12}, 25), 2, prior);
  CHECK_THROWS_AS(model.mean(1), std::domain_error);
  CHECK_THROWS_AS(model.range(2), std::domain_error);
  CHECK_THROWS_AS(model.spread(-1), std::domain_error);
  CHECK_THROWS_AS(StandModel(trays(0, 0, {12}, 25), 1, RhoPrior{-1, -1}), std::domain_error);
}
