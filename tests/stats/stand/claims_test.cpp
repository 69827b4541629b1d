// What is claimed, of one difference and of several together.
#include "stats/stand/claims.hpp"

#include <utility>
#include <vector>

#include "stats/inference/multiplicity.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

const auto prior = rho_from_beta(24);

JudgedContrast claim_on(const std::vector<PlacedUnit>& units, double d = 0.1) {
  const auto one = contrast(StandModel(units, 2, prior), 1, 0, d);
  return claim_together({&one, 1}).front();
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
  // Units elsewhere are no second one where both are; a stratum between them ties nothing.
  CHECK(claim_on({{1, 0, 30, 30}, {0, 0, 1, 30}, {1, 1, 29, 30}, {0, 2, 2, 30}}).ground ==
        ClaimGround::single_unit);
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
