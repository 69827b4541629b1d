// What is claimed, of one difference and of several together; and what holds of any trial.
#include "stats/stand/claims.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>
#include <vector>

#include "stats/inference/multiplicity.hpp"
#include "stats/numeric/random.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;
using plumule::tests::rounds;

namespace {

const auto prior = rho_from_beta(24);

JudgedContrast claim_on(const std::vector<PlacedUnit>& units, double d = 0.1) {
  const auto one = contrast(StandModel(units, 2, prior), 1, 0, d);
  return claim_together({&one, 1}).front();
}

// A trial of any kind: two to four treatments in one to four strata, units missing at random, of 1
// to 1,000 seeds, all up and nothing up among them.
std::vector<PlacedUnit> any_trial(Random& random, int& treatments) {
  treatments = 2 + static_cast<int>(random.below(3));
  const auto strata = static_cast<int>(1 + random.below(4)),
             most = static_cast<int>(1 + random.below(4));
  const bool alike = random.below(2) == 0;
  const int usual = static_cast<int>(std::exp(6.9 * random.unit()));
  const double base = random.unit(), rho = random.below(3) == 0 ? 0 : random.beta(1, 24);
  std::vector<PlacedUnit> units;
  for (int t = 0; t < treatments; ++t)
    for (int b = 0; b < strata; ++b)
      for (int i = 0; i < most; ++i) {
        if (random.below(4) == 0) continue;
        const int n = std::max(1, alike ? usual : static_cast<int>(std::exp(6.9 * random.unit())));
        const double p = std::clamp(base + 0.2 * b - 0.15 * t, 0.0, 1.0);
        const auto up = random.below(20) == 0
                            ? n * static_cast<std::int64_t>(random.below(2))
                            : random.beta_binomial(n, std::clamp(p, 1e-3, 0.999), rho);
        units.push_back({t, b, up, n});
      }
  for (int t = 0; t < treatments; ++t) units.push_back({t, 0, usual / 2, std::max(1, usual)});
  return units;
}

}  // namespace

TEST_CASE("no spread within a treatment keeps the claim") {
  CHECK(claim_on({{1, 0, 26, 30},
                  {1, 0, 26, 30},
                  {1, 0, 26, 30},
                  {1, 0, 26, 30},
                  {0, 0, 20, 30},
                  {0, 0, 20, 30},
                  {0, 0, 20, 30},
                  {0, 0, 20, 30}})
            .claim == StandClaim::more);
  CHECK(claim_on({{1, 0, 27, 30},
                  {1, 0, 26, 30},
                  {1, 0, 26, 30},
                  {1, 0, 26, 30},
                  {0, 0, 20, 30},
                  {0, 0, 20, 30},
                  {0, 0, 20, 30},
                  {0, 0, 20, 30}})
            .claim == StandClaim::more);
}

TEST_CASE("what stops a claim is named") {
  CHECK(claim_on({{1, 0, 30, 30}, {0, 0, 1, 30}, {0, 0, 2, 30}}).ground ==
        ClaimGround::single_unit);
  CHECK(claim_on({{1, 0, 30, 30}, {1, 0, 30, 30}, {0, 1, 1, 30}, {0, 1, 2, 30}}).ground ==
        ClaimGround::not_told_apart);
  // four units, three strata and a treatment: nothing left over
  CHECK(claim_on({{1, 0, 30, 30}, {0, 0, 1, 30}, {1, 1, 29, 30}, {0, 2, 2, 30}}).ground ==
        ClaimGround::no_spread);
  CHECK(claim_on({{1, 0, 20, 30}, {1, 0, 18, 30}, {0, 0, 17, 30}, {0, 0, 19, 30}}).ground ==
        ClaimGround::too_small);
}

TEST_CASE("neither, where the difference surely lies within what is worth having") {
  std::vector<PlacedUnit> units;
  for (const int x : {90, 92, 91, 89, 91, 90})
    units.insert(units.end(), {{1, 0, x, 100}, {0, 0, x, 100}});
  CHECK(claim_on(units).claim == StandClaim::neither);
  CHECK(claim_on(units).within_p <= 0.05);
  CHECK(claim_on(units, 0.01).claim == StandClaim::none);
}

TEST_CASE("after looking a claim needs a Bayes factor of 20 besides") {
  const std::vector<PlacedUnit> plain{{1, 0, 26, 30}, {1, 0, 25, 30}, {1, 0, 26, 30},
                                      {1, 0, 27, 30}, {0, 0, 10, 30}, {0, 0, 11, 30},
                                      {0, 0, 9, 30},  {0, 0, 10, 30}};
  const std::vector<PlacedUnit> weak{{1, 0, 25, 30}, {1, 0, 24, 30}, {1, 0, 26, 30},
                                     {1, 0, 25, 30}, {0, 0, 20, 30}, {0, 0, 21, 30},
                                     {0, 0, 19, 30}, {0, 0, 20, 30}};
  for (const auto& [units, stands] : {std::pair{plain, true}, std::pair{weak, false}}) {
    const auto one = contrast(StandModel(units, 2, prior), 1, 0);
    CHECK((one.bayes_factor >= 20) == stands);
    CHECK(claim_together({&one, 1}).front().claim == StandClaim::more);
    const auto after = claim_together({&one, 1}, Looking::after_looking).front();
    CHECK(after.claim == (stands ? StandClaim::more : StandClaim::none));
    CHECK(after.ground == (stands ? ClaimGround::decided : ClaimGround::weak_evidence));
  }
}

TEST_CASE(
    "several differences are claimed together by Holm; those that cannot be judged are no part") {
  std::vector<PlacedUnit> units;
  for (const int x : {20, 18, 19, 21}) units.push_back({0, 0, x, 30});
  for (const int x : {25, 24, 26, 25}) units.push_back({1, 0, x, 30});
  for (const int x : {24, 23, 26, 23}) units.push_back({2, 0, x, 30});
  for (const int x : {21, 18, 22, 19}) units.push_back({3, 0, x, 30});
  units.push_back({4, 0, 30, 30});
  const StandModel model(units, 5, prior);
  std::vector<StandContrast> all;
  for (const int t : {1, 2, 3, 4}) all.push_back(contrast(model, t, 0));
  const auto claims = claim_together(all);
  std::vector<double> tails;
  for (std::size_t i = 0; i < 3; ++i) tails.push_back(all[i].tail());
  const auto adjusted = holm(tails);
  for (std::size_t i = 0; i < 3; ++i) CHECK(claims[i].claim_p == adjusted[i]);
  CHECK(claims[0].claim == StandClaim::more);
  CHECK(claims[3].ground == ClaimGround::single_unit);
  CHECK(claims[3].claim_p == 1);
}

TEST_CASE("of any trial: the estimate lies in its range, and a claim has its sign") {
  Random random(14);
  int claims = 0, without = 0;
  for (int trial = 0; trial < rounds(1500); ++trial) {
    int treatments = 0;
    auto units = any_trial(random, treatments);
    const StandModel model(units, treatments, prior);
    std::vector<StandContrast> all;
    for (int t = 1; t < treatments; ++t) all.push_back(contrast(model, t, 0));
    for (int t = 0; t < treatments; ++t) {
      const auto range = model.range(t);
      CHECK(range.lower <= model.mean(t));
      CHECK(range.upper >= model.mean(t));
      CHECK(range.lower >= 0);
      CHECK(range.upper <= 1);
    }
    const auto claimed = claim_together(all);
    for (std::size_t i = 0; i < all.size(); ++i) {
      const auto& one = all[i];
      CHECK(one.range.lower <= one.estimate);
      CHECK(one.range.upper >= one.estimate);
      CHECK(one.p_better >= 0);
      CHECK(one.p_better <= 1);
      CHECK(one.p_worth <= one.p_better + 1e-9);
      CHECK(one.p_worth_less <= 1 - one.p_better + 1e-9);
      if (claimed[i].claim == StandClaim::more) CHECK(one.range.lower > 0);
      if (claimed[i].claim == StandClaim::fewer) CHECK(one.range.upper < 0);
      if (claimed[i].claim == StandClaim::more || claimed[i].claim == StandClaim::fewer)
        ++claims;
      else
        ++without;
    }
    // swapped labels mirror; the order of units is nothing
    if (trial % 5 == 0) {
      random.shuffle(std::span(units));
      const auto mirrored = contrast(StandModel(units, treatments, prior), 0, 1);
      CHECK_WITHIN(mirrored.estimate, -all[0].estimate, 1e-12);
      CHECK_WITHIN(mirrored.range.lower, -all[0].range.upper, 1e-6);
      CHECK_WITHIN(mirrored.p_better, 1 - all[0].p_better, 1e-9);
    }
  }
  CHECK(claims > rounds(100));
  CHECK(without > rounds(100));
}

TEST_CASE("a tray equal to its treatment's mean in its stratum never turns a claim round") {
  Random random(15);
  int claims = 0;
  for (int trial = 0; trial < rounds(1000); ++trial) {
    int treatments = 0;
    auto units = any_trial(random, treatments);
    const auto before = contrast(StandModel(units, treatments, prior), 1, 0);
    const auto claim = claim_together({&before, 1}).front().claim;
    if (claim != StandClaim::more && claim != StandClaim::fewer) continue;
    ++claims;
    const auto like = units[random.below(static_cast<std::uint32_t>(units.size()))];
    std::int64_t up = 0, sown = 0;
    for (const auto& unit : units)
      if (unit.treatment == like.treatment && unit.stratum == like.stratum) {
        up += unit.up;
        sown += unit.sown;
      }
    units.push_back({like.treatment, like.stratum, up, sown});
    const auto after = contrast(StandModel(units, treatments, prior), 1, 0);
    const auto now = claim_together({&after, 1}).front().claim;
    CHECK(now != (claim == StandClaim::more ? StandClaim::fewer : StandClaim::more));
  }
  CHECK(claims > rounds(50));
}
