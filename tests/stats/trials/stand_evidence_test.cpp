// The evidence on the stand, each rule by which it bears out a claim, and what is refused.
#include "stats/trials/stand_evidence.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "stats/trays/tray_aware_difference.hpp"
#include "stats/trials/claims.hpp"
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

// Judged as a trial closed as planned.
StandClaim claim(const std::vector<StandUnit>& first, const std::vector<StandUnit>& second,
                 const RhoPrior& rho = prior, double d = 0.1) {
  return stand_claim(stand_evidence(first, second, rho, d));
}

}  // namespace

TEST_CASE("a clear difference is more, and fewer the other way round") {
  const auto more = stand_evidence(high, low, prior);
  CHECK(stand_claim(more) == StandClaim::more);
  REQUIRE(more.t_p());
  CHECK(*more.t_p() < 0.05);
  CHECK(more.chances->better > 0.975);
  CHECK_FALSE(more.bayes_factor);
  const auto fewer = stand_evidence(low, high, prior);
  CHECK(stand_claim(fewer) == StandClaim::fewer);
  CHECK_WITHIN(fewer.chances->better, 1 - more.chances->better, 1e-8);
  CHECK_WITHIN(fewer.chances->worth_less, more.chances->worth, 1e-8);
}

TEST_CASE("the chances printed are those of the posterior") {
  const auto evidence = stand_evidence(high, low, prior, 0.3);
  const std::vector<TrayCount> one{{45, 50}, {47, 50}, {44, 50}, {46, 50}},
      two{{25, 50}, {29, 50}, {22, 50}, {27, 50}};
  const TrayAwareDifference posterior(one, two, prior);
  CHECK(evidence.chances->worth == posterior.probability_better_by(0.3));
  CHECK_WITHIN(evidence.chances->within, posterior.probability_within(0.3), 1e-15);
}

TEST_CASE("the posterior alone is not enough: trays that disagree stop the claim") {
  // First ahead in the pool, but its trays scatter so that the pooled t has p over 0.05
  const auto wild = trays({{50, 50}, {18, 50}}), steady = trays({{20, 50}, {21, 50}});
  const auto evidence = stand_evidence(wild, steady, rho_fixed_at(0));
  CHECK(evidence.chances->better >= 0.975);
  CHECK(*evidence.t_p() > 0.05);
  CHECK(stand_claim(evidence) == StandClaim::none);
}

TEST_CASE("what a seed lot does is not taken for what the treatment does") {
  // Lot 1 gives 44 of 50, lot 2 20 of 50, whatever the treatment; one treatment has most of lot 1.
  std::vector<StandUnit> one, other;
  for (int i = 0; i < 9; ++i) {
    const std::int64_t wobble = i % 3 - 1;
    one.push_back({{{(i < 7 ? 44 : 20) + wobble, 50}}, i < 7 ? 1 : 2});
    other.push_back({{{(i < 2 ? 44 : 20) + wobble, 50}}, i < 2 ? 1 : 2});
  }
  const auto mixed = stand_evidence(one, other, prior);
  CHECK(stand_claim(mixed) == StandClaim::none);
  REQUIRE(mixed.within == Within::sources);
  CHECK(std::fabs(mixed.t.difference) < 0.01);
  CHECK(stand_claim(stand_evidence(one, other, prior, 0.1, true)) == StandClaim::none);
  // The same counts of one lot are a claim.
  for (auto* units : {&one, &other})
    for (auto& unit : *units) unit.source = 0;
  CHECK(claim(one, other) == StandClaim::more);
  // What is seen within the lots as well is one, too.
  for (int i = 0; i < 9; ++i) {
    one[static_cast<std::size_t>(i)] = {{{(i < 7 ? 48 : 32) - i % 2, 50}}, i < 7 ? 1 : 2};
    other[static_cast<std::size_t>(i)] = {{{(i < 2 ? 36 : 20) - i % 2, 50}}, i < 2 ? 1 : 2};
  }
  const auto true_one = stand_evidence(one, other, prior);
  CHECK(stand_claim(true_one) == StandClaim::more);
  CHECK_WITHIN(true_one.t.difference, 0.24, 0.02);
}

TEST_CASE("stands shown to be alike are neither") {
  const auto alike = trays(std::vector<TrayCount>(6, {46, 50}));
  const auto nearly = trays({{46, 50}, {45, 50}, {47, 50}, {46, 50}, {45, 50}, {47, 50}});
  const auto evidence = stand_evidence(alike, nearly, prior, 0.15);
  CHECK(stand_claim(evidence) == StandClaim::neither);
  CHECK(evidence.chances->within >= 0.95);
  // with a smaller difference worth having the same trial is too small
  CHECK(claim(alike, nearly, prior, 0.02) == StandClaim::none);
}

TEST_CASE("trays without any variance need the Bayes factor for a claim") {
  const auto all = trays({{20, 20}, {20, 20}, {20, 20}}), none = trays({{0, 20}, {0, 20}, {0, 20}});
  const auto evidence = stand_evidence(all, none, prior);
  CHECK_FALSE(evidence.t_p());
  CHECK(stand_claim(evidence) == StandClaim::more);
  CHECK(*evidence.bayes_factor >= 20);
  const auto few = trays({{3, 3}, {3, 3}}), fewer = trays({{1, 3}, {1, 3}});
  const auto weak = stand_evidence(few, fewer, rho_fixed_at(0));
  CHECK_FALSE(weak.t_p());
  CHECK(stand_claim(weak) == StandClaim::none);
}

TEST_CASE("after looking only a Bayes factor of 20 claims") {
  CHECK(stand_claim(stand_evidence(high, low, prior, 0.1, true)) == StandClaim::more);
  const auto some = trays({{20, 25}, {21, 25}, {19, 25}}),
             less = trays({{16, 25}, {15, 25}, {16, 25}});
  const auto looked = stand_evidence(some, less, rho_from_beta(49), 0.1, true);
  CHECK(claim(some, less, rho_from_beta(49)) == StandClaim::more);
  CHECK(*looked.bayes_factor < 20);
  CHECK(stand_claim(looked) == StandClaim::none);
}

TEST_CASE("one unit in a treatment never claims anything") {
  const auto one = trays({{50, 50}});
  const auto evidence = stand_evidence(one, low, prior);
  CHECK(stand_claim(evidence) == StandClaim::none);
  CHECK(evidence.units == 1);
  CHECK(evidence.chances->better > 0.9);
  CHECK(stand_claim(stand_evidence(one, low, prior, 0.1, true)) == StandClaim::none);
  // four trays from one jar are one unit
  const std::vector<StandUnit> jar{{{{45, 50}, {47, 50}, {44, 50}, {46, 50}}}};
  CHECK(stand_evidence(jar, low, prior).units == 1);
  CHECK(claim(jar, low) == StandClaim::none);
}

TEST_CASE("a unit's fraction is the unweighted mean of its sowings'") {
  const StandUnit jar{{{10, 10}, {10, 40}}};
  CHECK_CLOSE(unit_fraction(jar), 0.625, 1e-15);
  CHECK(unit_count(jar).up == 20);
  CHECK(unit_count(jar).sown == 50);
}

TEST_CASE("without sowings there is no chance, no p and no claim") {
  const auto nothing = stand_evidence({}, low, prior);
  CHECK(nothing.units == 0);
  CHECK_FALSE(nothing.chances);
  CHECK_FALSE(nothing.t_p());
  CHECK(stand_claim(nothing) == StandClaim::none);
}

TEST_CASE("evidence that cannot be asked for is refused") {
  CHECK_THROWS_AS(stand_evidence(high, low, prior, 0), std::domain_error);
  CHECK_THROWS_AS(stand_evidence({}, low, prior, 1.5), std::domain_error);
  CHECK_THROWS_AS(unit_fraction({}), std::domain_error);
  const auto broken = trays({{5, 4}, {1, 4}});
  CHECK_THROWS_AS(stand_evidence(broken, low, prior), std::domain_error);
}
