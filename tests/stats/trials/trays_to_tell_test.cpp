// How many trays would tell: against the simulated power of the rule, and its edges.
#include "stats/trials/trays_to_tell.hpp"

#include <stdexcept>
#include <vector>

#include "stats/numeric/random.hpp"
#include "stats/trials/claims.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the chance of a claim is the one simulated for the rule") {
  // simulation study, computed: 0.8 against 0.6, 25 seeds a tray, rho 0.02, Beta(1, 39): claims in
  // 17 % of trials of two trays each, 57 % of four. 150 trials here: standard errors 3 and 4
  // points.
  const auto prior = rho_from_beta(39);
  const auto two = stand_chances(0.8, 0.6, 0.02, 2, 25, prior, 0.1, 150, 7);
  const auto four = stand_chances(0.8, 0.6, 0.02, 4, 25, prior, 0.1, 150, 7);
  CHECK_WITHIN(two.more + two.fewer, 0.17, 0.12);
  CHECK_WITHIN(four.more + four.fewer, 0.57, 0.16);
  CHECK(four.fewer == 0);
  CHECK_WITHIN(four.more + four.fewer + four.neither + four.too_small, 1, 1e-12);
  const auto again = stand_chances(0.8, 0.6, 0.02, 2, 25, prior, 0.1, 150, 7);
  CHECK(again.more == two.more);
}

TEST_CASE("a wide difference asks for few trays, a narrow one for more than can be had") {
  const std::vector<StandUnit> high{{{{24, 25}}}, {{{23, 25}}}}, low{{{{8, 25}}}, {{{10, 25}}}};
  const auto prior = rho_from_beta(24);
  const auto wide = trays_to_tell(high, low, prior);
  REQUIRE(wide.trays);
  CHECK(*wide.trays <= 4);
  CHECK(wide.chance >= 0.8);
  CHECK(wide.seeds == 25);
  CHECK(wide.p_first > wide.p_second);
  const std::vector<StandUnit> some{{{{14, 20}}}, {{{15, 20}}}}, near{{{{13, 20}}}, {{{14, 20}}}};
  const auto narrow = trays_to_tell(some, near, prior);
  CHECK_FALSE(narrow.trays);
  CHECK(narrow.most_tried == 24);
}

TEST_CASE("one huge sowing does not make the trays of the next trial huge") {
  const std::vector<StandUnit> odd{{{{80000, 100000}}}, {{{16, 20}}}}, even{{{{15, 20}}}};
  CHECK(trays_to_tell(odd, even, rho_from_beta(24)).seeds == 20);
}

TEST_CASE("the trials drawn are judged as the verdict itself judges them") {
  // The same draws again, each through stand_claim without any short cut
  const auto prior = rho_from_beta(24);
  for (const double p2 : {0.9, 0.82, 0.6}) {
    const auto chances = stand_chances(0.9, p2, 0.01, 5, 60, prior, 0.12, 60, 11);
    Random random(11);
    int more = 0, neither = 0;
    for (int trial = 0; trial < 60; ++trial) {
      std::vector<StandUnit> first, second;
      for (int i = 0; i < 5; ++i) {
        first.push_back({{{random.beta_binomial(60, 0.9, 0.01), 60}}});
        second.push_back({{{random.beta_binomial(60, p2, 0.01), 60}}});
      }
      const auto claim = stand_claim(stand_evidence(first, second, prior, 0.12));
      more += claim == StandClaim::more ? 1 : 0;
      neither += claim == StandClaim::neither ? 1 : 0;
    }
    CHECK_CLOSE(chances.more, more / 60.0, 1e-12);
    CHECK_CLOSE(chances.neither, neither / 60.0, 1e-12);
  }
}

TEST_CASE("without sowings no number of trays is named, and impossible questions are refused") {
  const std::vector<StandUnit> some{{{{14, 20}}}};
  CHECK_FALSE(trays_to_tell({}, some, rho_from_beta(24)).trays);
  CHECK_THROWS_AS(trays_to_tell(some, some, rho_from_beta(24), 0), std::domain_error);
  CHECK_THROWS_AS(trays_to_tell(some, some, rho_from_beta(24), 0.1, 1), std::domain_error);
  CHECK_THROWS_AS(stand_chances(1.2, 0.5, 0, 2, 25, rho_from_beta(24), 0.1, 10, 1),
                  std::domain_error);
  CHECK_THROWS_AS(stand_chances(0.5, 0.5, 0, 0, 25, rho_from_beta(24), 0.1, 10, 1),
                  std::domain_error);
}
