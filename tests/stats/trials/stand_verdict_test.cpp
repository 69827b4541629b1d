// Each rule of the verdict on the stand, and what it refuses.
#include "stats/trials/stand_verdict.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "stats/trays/tray_aware_difference.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

std::vector<StandUnit> trays(const std::vector<TrayCount>& counts) {
  std::vector<StandUnit> units;
  for (const auto& count : counts) units.push_back({{count}});
  return units;
}

const auto high = trays({{45, 50}, {47, 50}, {44, 50}, {46, 50}});
const auto low = trays({{25, 50}, {29, 50}, {22, 50}, {27, 50}});
const auto prior = rho_from_beta(24);

}  // namespace

TEST_CASE("a clear difference is more, and fewer the other way round") {
  const auto more = stand_verdict(high, low, TrialEnd::closed_as_planned, prior);
  CHECK(more.code == StandCode::more);
  CHECK(more.ground == StandGround::posterior_and_t);
  REQUIRE(more.t_p);
  CHECK(*more.t_p < 0.05);
  CHECK(*more.p_better > 0.975);
  CHECK_FALSE(more.bayes_factor);
  const auto fewer = stand_verdict(low, high, TrialEnd::closed_as_planned, prior);
  CHECK(fewer.code == StandCode::fewer);
  CHECK_WITHIN(*fewer.p_better, 1 - *more.p_better, 1e-8);
  CHECK_WITHIN(*fewer.p_worth_less, *more.p_worth, 1e-8);
}

TEST_CASE("the chances printed are those of the posterior") {
  const auto verdict = stand_verdict(high, low, TrialEnd::closed_as_planned, prior, 0.3);
  const std::vector<TrayCount> one{{45, 50}, {47, 50}, {44, 50}, {46, 50}},
      two{{25, 50}, {29, 50}, {22, 50}, {27, 50}};
  const TrayAwareDifference posterior(one, two, prior);
  CHECK(*verdict.p_worth == posterior.probability_better_by(0.3));
  CHECK_WITHIN(*verdict.p_within, posterior.probability_within(0.3), 1e-15);
}

TEST_CASE("the posterior alone is not enough: trays that disagree stop the claim") {
  // First ahead in the pool, but its trays scatter so that the pooled t has p over 0.05
  const auto wild = trays({{50, 50}, {18, 50}}), steady = trays({{20, 50}, {21, 50}});
  const auto verdict = stand_verdict(wild, steady, TrialEnd::closed_as_planned, rho_fixed_at(0));
  CHECK(*verdict.p_better >= 0.975);
  CHECK(*verdict.t_p > 0.05);
  CHECK(verdict.code == StandCode::too_small);
  CHECK(verdict.ground == StandGround::nothing_decided);
}

TEST_CASE("what a seed lot does is not taken for what the treatment does") {
  // Lot 1 gives 44 of 50, lot 2 20 of 50, whatever the treatment; one treatment has most of lot 1.
  std::vector<StandUnit> one, other;
  for (int i = 0; i < 9; ++i) {
    const std::int64_t wobble = i % 3 - 1;
    one.push_back({{{(i < 7 ? 44 : 20) + wobble, 50}}, i < 7 ? 1 : 2});
    other.push_back({{{(i < 2 ? 44 : 20) + wobble, 50}}, i < 2 ? 1 : 2});
  }
  const auto mixed = stand_verdict(one, other, TrialEnd::closed_as_planned, prior);
  CHECK(mixed.code == StandCode::too_small);
  REQUIRE(mixed.within_sources);
  CHECK(std::fabs(*mixed.within_sources) < 0.01);
  CHECK_FALSE(mixed.p_better);
  CHECK_FALSE(mixed.p_within);
  CHECK(stand_verdict(one, other, TrialEnd::after_looking, prior).code == StandCode::too_small);
  // The same counts of one lot are a claim.
  for (auto* units : {&one, &other})
    for (auto& unit : *units) unit.source = 0;
  CHECK(stand_verdict(one, other, TrialEnd::closed_as_planned, prior).code == StandCode::more);
  // What is seen within the lots as well is one, too.
  for (int i = 0; i < 9; ++i) {
    one[static_cast<std::size_t>(i)] = {{{(i < 7 ? 48 : 32) - i % 2, 50}}, i < 7 ? 1 : 2};
    other[static_cast<std::size_t>(i)] = {{{(i < 2 ? 36 : 20) - i % 2, 50}}, i < 2 ? 1 : 2};
  }
  const auto true_one = stand_verdict(one, other, TrialEnd::closed_as_planned, prior);
  CHECK(true_one.code == StandCode::more);
  CHECK_WITHIN(*true_one.within_sources, 0.24, 0.02);
}

TEST_CASE("stands shown to be alike are neither") {
  const auto alike = trays(std::vector<TrayCount>(6, {46, 50}));
  const auto nearly = trays({{46, 50}, {45, 50}, {47, 50}, {46, 50}, {45, 50}, {47, 50}});
  const auto verdict = stand_verdict(alike, nearly, TrialEnd::closed_as_planned, prior, 0.15);
  CHECK(verdict.code == StandCode::neither);
  CHECK(verdict.ground == StandGround::posterior_within);
  CHECK(*verdict.p_within >= 0.95);
  // with a smaller difference worth having the same trial is too small
  CHECK(stand_verdict(alike, nearly, TrialEnd::closed_as_planned, prior, 0.02).code ==
        StandCode::too_small);
}

TEST_CASE("trays without any variance need the Bayes factor for a claim") {
  const auto all = trays({{20, 20}, {20, 20}, {20, 20}}), none = trays({{0, 20}, {0, 20}, {0, 20}});
  const auto verdict = stand_verdict(all, none, TrialEnd::closed_as_planned, prior);
  CHECK_FALSE(verdict.t_p);
  CHECK(verdict.code == StandCode::more);
  CHECK(verdict.ground == StandGround::posterior_and_factor);
  CHECK(*verdict.bayes_factor >= 20);
  const auto few = trays({{3, 3}, {3, 3}}), fewer = trays({{1, 3}, {1, 3}});
  const auto weak = stand_verdict(few, fewer, TrialEnd::closed_as_planned, rho_fixed_at(0));
  CHECK_FALSE(weak.t_p);
  CHECK(weak.code == StandCode::too_small);
}

TEST_CASE("after looking only a Bayes factor of 20 claims") {
  const auto verdict = stand_verdict(high, low, TrialEnd::after_looking, prior);
  CHECK(verdict.code == StandCode::more);
  CHECK(verdict.ground == StandGround::bayes_factor);
  const auto some = trays({{20, 25}, {21, 25}, {19, 25}}),
             less = trays({{16, 25}, {15, 25}, {16, 25}});
  const auto planned = stand_verdict(some, less, TrialEnd::closed_as_planned, rho_from_beta(49));
  const auto looked = stand_verdict(some, less, TrialEnd::after_looking, rho_from_beta(49));
  CHECK(planned.code == StandCode::more);
  CHECK(*looked.bayes_factor < 20);
  CHECK(looked.code == StandCode::too_small);
}

TEST_CASE("one unit in a treatment never claims anything") {
  const auto one = trays({{50, 50}});
  const auto verdict = stand_verdict(one, low, TrialEnd::closed_as_planned, prior);
  CHECK(verdict.code == StandCode::too_small);
  CHECK(verdict.ground == StandGround::single_unit);
  CHECK(*verdict.p_better > 0.9);
  // four trays from one jar are one unit
  const std::vector<StandUnit> jar{{{{45, 50}, {47, 50}, {44, 50}, {46, 50}}}};
  CHECK(stand_verdict(jar, low, TrialEnd::closed_as_planned, prior).ground ==
        StandGround::single_unit);
}

TEST_CASE("a unit's fraction is the unweighted mean of its sowings'") {
  const StandUnit jar{{{10, 10}, {10, 40}}};
  CHECK_CLOSE(unit_fraction(jar), 0.625, 1e-15);
  CHECK(unit_count(jar).up == 20);
  CHECK(unit_count(jar).sown == 50);
}

TEST_CASE("an open trial has no verdict and no chances, and no sowings no answer") {
  const auto open = stand_verdict(high, low, TrialEnd::open, prior);
  CHECK(open.code == StandCode::open);
  CHECK_FALSE(open.p_better);
  CHECK_FALSE(open.t_p);
  const auto nothing = stand_verdict({}, low, TrialEnd::closed_as_planned, prior);
  CHECK(nothing.ground == StandGround::no_sowings);
  CHECK_FALSE(nothing.p_better);
}

TEST_CASE("verdicts that cannot be asked for are refused") {
  CHECK_THROWS_AS(stand_verdict(high, low, TrialEnd::closed_as_planned, prior, 0),
                  std::domain_error);
  CHECK_THROWS_AS(stand_verdict(high, low, TrialEnd::open, prior, 1.5), std::domain_error);
  CHECK_THROWS_AS(unit_fraction({}), std::domain_error);
  const auto broken = trays({{5, 4}, {1, 4}});
  CHECK_THROWS_AS(stand_verdict(broken, low, TrialEnd::closed_as_planned, prior),
                  std::domain_error);
}
