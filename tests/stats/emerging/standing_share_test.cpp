// What the ground gives of the seed alive: cells against the exact beta, and the mixture's mean.
#include "stats/emerging/standing_share.hpp"

#include <cmath>
#include <numbers>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("in a towel a tray's chance is the beta of mean g: cells against its distribution") {
  const double rho = 0.04;
  const StandingShare towel(Ground::towel, rho);
  for (std::size_t i = 1; i + 1 < StandingShare::alive_points; ++i) {
    const double g = StandingShare::alive_at(i);
    const double a = g * (1 - rho) / rho, b = (1 - g) * (1 - rho) / rho;
    double below = 0;
    for (std::size_t j = 0; j < StandingShare::cells; ++j) {
      below += towel.share(i, j);
      const double end = std::pow(std::sin(std::numbers::pi / 2 * static_cast<double>(j) /
                                           static_cast<double>(StandingShare::cells - 1)),
                                  2);
      CHECK_WITHIN(below, j == 0 ? 0 : beta_lower(std::min(end, 1.0), a, b), 0.006);
    }
  }
}

TEST_CASE("the ends: dead seed never comes, and all of a lot alive comes in a towel") {
  const StandingShare towel(Ground::towel, 0.02);
  CHECK(towel.share(0, 0) == 1);
  CHECK_WITHIN(towel.share(StandingShare::alive_points - 1, StandingShare::cells - 1), 1, 1e-12);
}

TEST_CASE("soil gives its share of the seed alive, in the mean by hand") {
  // 0.95 x 18/20 + 0.05 x 1/20, and 0.9 x 4/6 + 0.1 x 1/10; times what the table gives, here 28/96.
  struct Mean {
    Ground ground;
    double factor;
  };
  for (const auto& [ground, factor] : {Mean{Ground::under_cover, 0.8575}, {Ground::outdoors, 0.61}})
    for (const double published : {1.0, 28.0 / 96}) {
      const StandingShare share(ground, 0.05, published);
      const std::vector<Alive> alive{{0.8, 1}};
      const auto shares = share.shares(alive);
      double mean = 0, all = 0;
      for (std::size_t j = 0; j < shares.size(); ++j) {
        mean += shares[j] * StandingShare::chance_at(j);
        all += shares[j];
      }
      CHECK_WITHIN(all, 1, 1e-9);
      CHECK_WITHIN(mean, 0.8 * factor * published, 0.004);
    }
}

TEST_CASE("a fraction's place among the points, and the usual belief") {
  for (const double g : {0.0, 0.001, 0.3, 0.5, 0.999, 1.0}) {
    const auto [point, share] = alive_place(g);
    const double back =
        (1 - share) * StandingShare::alive_at(point) + share * StandingShare::alive_at(point + 1);
    CHECK_WITHIN(back, g, 5e-4);
  }
  double weight = 0, mean = 0;
  for (const auto& alive : usual_alive()) {
    weight += alive.weight;
    mean += alive.weight * alive.fraction;
  }
  CHECK_WITHIN(weight, 1, 1e-12);
  CHECK_WITHIN(mean, 0.95 * 2 / 3, 1e-3);
}
