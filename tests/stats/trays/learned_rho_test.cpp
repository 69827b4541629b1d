// B learned from groups: against plain double sums, a truth it was drawn from, and what it may not
// depend on.
#include "stats/trays/learned_rho.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

using Group = std::vector<TrayCount>;

// log of the beta-binomial without its coefficient, by log Gamma.
long double log_term(const TrayCount& t, long double p, long double rho) {
  const long double a = p * (1 - rho) / rho, b = (1 - p) * (1 - rho) / rho;
  const long double x = static_cast<long double>(t.up), n = static_cast<long double>(t.sown);
  return std::lgamma(a + x) - std::lgamma(a) + std::lgamma(b + n - x) - std::lgamma(b) -
         std::lgamma(a + b + n) + std::lgamma(a + b);
}

// log M(B) by Simpson's rule over the logit of rho and midpoints over the angle of p.
double brute(const Group& group, double b) {
  const int angles = 300, nodes = 240;
  const double from = -18, to = 6, step = (to - from) / nodes;
  std::vector<long double> logs;
  for (int i = 0; i <= nodes; ++i) {
    const long double odds = std::exp(static_cast<long double>(from + step * i));
    const long double rho = odds / (1 + odds);
    // At the foot the mass below it is put there.
    const long double simpson = (i == 0 || i == nodes ? 1 : i % 2 == 1 ? 4 : 2) * step / 3;
    const long double weight = std::log(static_cast<long double>(b)) + b * std::log1p(-rho) +
                               std::log(rho) + std::log(simpson);
    for (int j = 0; j < angles; ++j) {
      const long double angle = (j + 0.5L) / angles * std::numbers::pi_v<long double> / 2;
      const long double p = std::sin(angle) * std::sin(angle);
      long double sum = weight - std::log(static_cast<long double>(angles));
      for (const auto& tray : group) sum += log_term(tray, p, rho);
      logs.push_back(sum);
    }
  }
  const long double top = *std::max_element(logs.begin(), logs.end());
  long double sum = 0;
  for (const long double l : logs) sum += std::exp(l - top);
  return static_cast<double>(top + std::log(sum));
}

std::vector<Group> drawn(double b, int groups, int trays, std::int64_t seeds, std::uint64_t seed) {
  Random random(seed);
  std::vector<Group> made;
  for (int g = 0; g < groups; ++g) {
    const double rho = random.beta(1, b), p = random.beta(4, 1.5);
    Group group;
    for (int i = 0; i < trays; ++i) group.push_back({random.beta_binomial(seeds, p, rho), seeds});
    made.push_back(group);
  }
  return made;
}

LearnedRho learned(const std::vector<Group>& groups) {
  LearnedRho made;
  for (const auto& group : groups) made.add(group);
  return made;
}

}  // namespace

TEST_CASE("the marginal likelihood of B is that of plain sums") {
  const std::vector<Group> groups{
      {{20, 25}, {24, 25}, {18, 25}}, {{0, 20}, {3, 20}},  {{0, 10}, {0, 10}, {0, 10}},
      {{50, 50}, {50, 50}},           {{0, 50}, {50, 50}}, {{40, 50}, {41, 50}, {40, 50}, {41, 50}},
      {{7, 9}, {80, 100}, {1, 1}}};
  for (const auto& group : groups) {
    const auto made = learned({group});
    for (const std::size_t place : {14u, 26u}) {
      INFO(group[0].up, " of ", group[0].sown, ", B ", LearnedRho::b_at(place));
      CHECK_WITHIN(made.log_likelihood()[place], brute(group, LearnedRho::b_at(place)), 2e-5);
    }
  }
}

TEST_CASE("groups add up, in any order, and mirrored ones tell the same") {
  const auto groups = drawn(20, 12, 4, 25, 3);
  auto turned = groups;
  std::reverse(turned.begin(), turned.end());
  for (auto& group : turned)
    for (auto& tray : group) tray.up = tray.sown - tray.up;
  const auto a = learned(groups), b = learned(turned);
  CHECK(a.groups() == 12);
  for (std::size_t place = 0; place < LearnedRho::grid; ++place)
    CHECK_CLOSE(a.log_likelihood()[place], b.log_likelihood()[place], 1e-9);
  CHECK_CLOSE(*a.b(24), *b.b(24), 1e-6);
}

TEST_CASE("B is found again from many groups, and its top is that of the sums") {
  for (const double b : {14.0, 49.0}) {
    const auto made = learned(drawn(b, 400, 4, 50, static_cast<std::uint64_t>(b)));
    const auto found = made.b(24);
    REQUIRE(found);
    INFO("B ", b, ", found ", *found);
    CHECK(std::fabs(std::log(*found / b)) < 0.25);  // three standard errors, some 8 % each
    // The guess is off by one unit of log B at e times itself, and falls off as a normal density.
    double top = -HUGE_VAL, at = 0;
    for (std::size_t place = 0; place < LearnedRho::grid; ++place) {
      const double off = std::log(LearnedRho::b_at(place) / 24);
      const double height = made.log_likelihood()[place] - off * off / 2;
      if (height > top) at = LearnedRho::b_at(place);
      top = std::max(top, height);
    }
    CHECK(std::fabs(std::log(*found / at)) < 0.5 * std::log(1000.0) / 40);
  }
}

TEST_CASE("a guess gives way to many groups, and little to a few that happen to agree") {
  const Group alike{{41, 50}, {42, 50}};
  const double few = *learned(std::vector<Group>(10, alike)).b(24);
  const double many = *learned(std::vector<Group>(400, alike)).b(24);
  CHECK(few > 24);
  CHECK(few < 150);  // alone they would have it at the end of the grid
  CHECK(many > 200);
  const auto drawn_alike = learned(drawn(60, 400, 4, 50, 6));
  CHECK(std::fabs(std::log(*drawn_alike.b(49) / *drawn_alike.b(14))) < 0.05);
}

TEST_CASE("too few groups, groups of one, and groups that never agree") {
  auto made = learned(drawn(20, 9, 3, 25, 8));
  CHECK_FALSE(made.b(24).has_value());
  made.add(Group{{20, 25}});
  made.add(Group{});
  CHECK(made.groups() == 9);
  made.add(Group{{20, 25}, {21, 25}});
  CHECK(made.b(24).has_value());
  const auto apart = learned(std::vector<Group>(50, Group{{0, 50}, {50, 50}}));
  CHECK_CLOSE(*apart.b(24), 2, 1e-12);
  CHECK_THROWS_AS(made.add(Group{{3, 2}, {1, 2}}), std::domain_error);
  CHECK_THROWS_AS(made.b(0), std::domain_error);
}
