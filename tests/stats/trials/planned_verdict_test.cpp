// The verdict of supposed trials: near the rule it stands for, and its edges.
#include "stats/trials/planned_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "stats/numeric/random.hpp"
#include "stats/trials/stand_evidence.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

struct Supposed {
  double p1, p2, rho;
  int trays, seeds;
};

std::vector<int> draw(Random& random, const Supposed& s, double p) {
  std::vector<int> up;
  for (int i = 0; i < s.trays; ++i)
    up.push_back(static_cast<int>(random.beta_binomial(s.seeds, p, s.rho)));
  return up;
}

std::vector<StandUnit> units(const std::vector<int>& up, int seeds) {
  std::vector<StandUnit> made;
  for (const int x : up) made.push_back({{{x, seeds}}});
  return made;
}

}  // namespace

TEST_CASE("supposed trials are judged nearly as the rule judges them") {
  const auto prior = rho_from_beta(24);
  int trials = 0, otherwise = 0;
  for (const Supposed s : {Supposed{0.9, 0.85, 0.03, 6, 50}, Supposed{0.9, 0.9, 0.01, 4, 50},
                           Supposed{0.8, 0.6, 0.03, 4, 25}, Supposed{0.8, 0.7, 0.05, 12, 30},
                           Supposed{0.5, 0.5, 0.02, 6, 100}, Supposed{0.97, 0.9, 0.03, 8, 40}}) {
    Random random(21);
    const PlannedVerdict plan(s.p1, s.p2, s.rho, s.seeds, prior, 0.1);
    int decided = 0, planned = 0;
    for (int t = 0; t < 60; ++t) {
      const auto first = draw(random, s, s.p1), second = draw(random, s, s.p2);
      const auto exact =
          stand_claim(stand_evidence(units(first, s.seeds), units(second, s.seeds), prior, 0.1));
      const auto near = plan.judge(first, second);
      ++trials;
      otherwise += near != exact ? 1 : 0;
      decided += exact != StandClaim::none ? 1 : 0;
      planned += near != StandClaim::none ? 1 : 0;
    }
    INFO(s.p1, " ", s.p2, " ", s.trays, " x ", s.seeds);
    CHECK(std::abs(decided - planned) <= 4);
  }
  CHECK(otherwise <= trials / 25);
}

TEST_CASE("supposed trials claim seldom where there is no difference, surely where it is wide") {
  const PlannedVerdict plan(0.5, 0.5, 0.1, 40, rho_from_beta(24), 0.1);
  Random random(4);
  std::array<int, 4> seen{};
  for (int t = 0; t < 300; ++t) ++seen[static_cast<std::size_t>(plan.draw(random, 6))];
  // A t at 5 % and a posterior: claims of either sign about alike, and at most some 7 in 100.
  CHECK(seen[0] + seen[1] <= 30);
  const PlannedVerdict apart(0.9, 0.2, 0.1, 40, rho_from_beta(24), 0.1);
  for (int t = 0; t < 20; ++t) CHECK(apart.draw(random, 8) == StandClaim::more);
}

TEST_CASE("labels swapped turn more into fewer") {
  const PlannedVerdict plan(0.85, 0.7, 0.03, 30, rho_from_beta(24), 0.1);
  const PlannedVerdict turned(0.7, 0.85, 0.03, 30, rho_from_beta(24), 0.1);
  const std::vector<int> high{28, 26, 27, 29}, low{18, 20, 21, 17};
  CHECK(plan.judge(high, low) == StandClaim::more);
  CHECK(turned.judge(low, high) == StandClaim::fewer);
}

TEST_CASE("supposed trials at the edges: all up, none up, no variance, one seed") {
  const auto prior = rho_from_beta(24);
  const PlannedVerdict all(1, 1, 0, 50, prior, 0.1);
  const std::vector<int> full{50, 50, 50}, none{0, 0, 0}, most{48, 48, 48};
  CHECK(all.judge(full, full) == StandClaim::neither);
  const PlannedVerdict ends(1, 0, 0, 50, prior, 0.1);
  CHECK(ends.judge(full, none) == StandClaim::more);
  const PlannedVerdict near(0.99, 0.96, 0, 50, prior, 0.1);
  CHECK(near.judge(full, most) != StandClaim::more);  // alike within, but no factor of 20
  Random random(1);
  const PlannedVerdict single(0.5, 0.5, 0, 1, prior, 0.1);
  CHECK(single.draw(random, 2) == StandClaim::none);
  const PlannedVerdict large(0.9, 0.9, 0.02, 1000, rho_fixed_at(0.02), 0.1);
  CHECK(large.draw(random, 24) == StandClaim::neither);
}

TEST_CASE("impossible suppositions are refused") {
  const auto prior = rho_from_beta(24);
  CHECK_THROWS_AS(PlannedVerdict(1.1, 0.5, 0, 10, prior, 0.1), std::domain_error);
  CHECK_THROWS_AS(PlannedVerdict(0.5, std::numeric_limits<double>::quiet_NaN(), 0, 10, prior, 0.1),
                  std::domain_error);
  CHECK_THROWS_AS(PlannedVerdict(0.5, 0.5, 1, 10, prior, 0.1), std::domain_error);
  CHECK_THROWS_AS(PlannedVerdict(0.5, 0.5, 0, 0, prior, 0.1), std::domain_error);
  CHECK_THROWS_AS(PlannedVerdict(0.5, 0.5, 0, 10, prior, 0), std::domain_error);
  const PlannedVerdict plan(0.5, 0.5, 0, 10, prior, 0.1);
  Random random(1);
  CHECK_THROWS_AS(plan.draw(random, 1), std::domain_error);
  CHECK_THROWS_AS(plan.judge(std::vector{1, 2}, std::vector{1, 2, 3}), std::domain_error);
}
