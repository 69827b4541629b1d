// Against sums over the beta-binomial, against trays drawn one by one, and (rho 0) against R 4.2's
// pbinom and qbinom.
#include "stats/sowing/how_many.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>

#include "stats/trays/beta_binomial.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;

namespace {

const std::vector<FactorNode> all_of_it = {{1, 1}};

double at_least(double p, double rho, int n, int k) {
  double sum = 0;
  for (int x = k; x <= n; ++x) {
    const std::array<Tally, 1> tray = {{{static_cast<double>(x), static_cast<double>(n)}}};
    sum += std::exp(beta_binomial_log_likelihood(tray, p, rho));
  }
  return sum;
}

double draw_beta(std::mt19937_64& random, double p, double rho) {
  const double size = (1 - rho) / rho;
  std::gamma_distribution<double> a(p * size), b((1 - p) * size);
  const double x = a(random), y = b(random);
  return x + y > 0 ? x / (x + y) : p;
}

}  // namespace

TEST_SUITE("how many") {
  TEST_CASE("one tray of a known lot: the beta-binomial") {
    for (const double p : {0.3, 0.6, 0.85, 0.97})
      for (const double rho : {0.0, 0.01, 0.1, 0.3})
        for (const int n : {10, 50, 200}) {
          CAPTURE(p);
          CAPTURE(rho);
          CAPTURE(n);
          const std::vector<LotPoint> lot = {{p, rho, 1}};
          const auto share = stand_share(lot, all_of_it, 1);
          CHECK(expected_stand(share, n) == doctest::Approx(p * n).epsilon(2e-3));
          for (int k = 0; k <= n; k += n / 10)
            CHECK(std::fabs(chance_of_stand(share, n, k) - at_least(p, rho, n, k)) < 2e-3);
        }
  }

  TEST_CASE("seeds needed where all seeds are alike") {
    // R: pbinom(9, n, 0.9, lower.tail = FALSE) is 0.889 at 12 and 0.966 at 13 seeds; of 0.55
    // and 40 plants pbinom(39, n, 0.55, lower.tail = FALSE) first is 0.9 at 83.
    const std::vector<LotPoint> good = {{0.9, 0, 1}}, poor = {{0.55, 0, 1}};
    const auto good_share = stand_share(good, all_of_it, 1);
    const auto poor_share = stand_share(poor, all_of_it, 1);
    CHECK(seeds_to_sow(good_share, 10, 0.9, 1000) == 13);
    CHECK(chance_of_stand(good_share, 13, 10) == doctest::Approx(0.965839279077).epsilon(1e-6));
    CHECK(seeds_to_sow(poor_share, 40, 0.9, 1000) == 83);
    CHECK_FALSE(seeds_to_sow(poor_share, 40, 0.9, 82).has_value());
    // R: qbinom(c(0.05, 0.95), 100, 0.9).
    const StandRange range = stand_range(good_share, 100, 0.9);
    CHECK(range.lower == 85);
    CHECK(range.upper == 95);
  }

  TEST_CASE("the fewest seeds are the fewest, and more trays need no more") {
    const std::vector<LotPoint> lot = {{0.5, 0.08, 0.25}, {0.7, 0.08, 0.5}, {0.8, 0.02, 0.25}};
    std::int64_t before = 1'000'000;
    for (const std::int64_t trays : {1, 2, 5, 20}) {
      CAPTURE(trays);
      const auto share = stand_share(lot, field_factor(Ground::under_cover), trays);
      const auto seeds = seeds_to_sow(share, 30, 0.9, 10000);
      REQUIRE(seeds.has_value());
      CHECK(chance_of_stand(share, *seeds, 30) >= 0.9);
      CHECK(chance_of_stand(share, *seeds - 1, 30) < 0.9);
      CHECK(*seeds <= before);
      before = *seeds;
    }
    // One bed in ten fails whole: no number of seeds makes 99 of 100 sure within reason.
    const auto bed = stand_share(lot, field_factor(Ground::outdoors), 1);
    CHECK_FALSE(seeds_to_sow(bed, 100, 0.99, 1000).has_value());
  }

  TEST_CASE("as drawn seed by seed: several trays, a factor, losses") {
    std::mt19937_64 random(11);
    const std::vector<LotPoint> lot = {{0.6, 0.1, 0.5}, {0.9, 0.03, 0.5}};
    const std::vector<FactorNode> soil = {{0.5, 0.25}, {0.8, 0.5}, {0.95, 0.25}};
    constexpr int trays = 3, each = 24;
    const auto share = stand_share(lot, soil, trays);
    std::vector<int> reached(trays * each + 1);
    const int rounds = plumule::tests::rounds(40000);
    for (int round = 0; round < rounds; ++round) {
      std::uniform_real_distribution<double> even(0, 1);
      const LotPoint& point = lot[even(random) < 0.5 ? 0 : 1];
      const double drawn = even(random);
      const double factor = soil[drawn < 0.25 ? 0 : drawn < 0.75 ? 1 : 2].factor;
      int up = 0;
      for (int tray = 0; tray < trays; ++tray) {
        const double p = draw_beta(random, point.p, point.rho) * factor;
        up += std::binomial_distribution<int>(each, p)(random);
      }
      for (int k = 0; k <= up; ++k) ++reached[static_cast<std::size_t>(k)];
    }
    for (int k = 0; k <= trays * each; k += 6) {
      CAPTURE(k);
      const double seen = reached[static_cast<std::size_t>(k)] / static_cast<double>(rounds);
      CHECK(std::fabs(chance_of_stand(share, trays * each, k) - seen) <
            (plumule::tests::sanitized ? 0.025 : 0.01));
    }
  }

  TEST_CASE("cells of several seeds") {
    // Of three seeds of 0.7 one at least comes up in 1 - 0.3^3 of the cells (elementary).
    const std::vector<LotPoint> lot = {{0.7, 0, 1}};
    const auto share = stand_share(lot, all_of_it, 1);
    const CellStand stand = cell_stand(share, 72, 3);
    CHECK(stand.filled == doctest::Approx(72 * (1 - 0.027)));
    CHECK(stand.filled + stand.thinned == doctest::Approx(72 * 3 * 0.7));
    CHECK(seeds_per_cell(share, 72, 68, 0.9, 8) == 3);
    CHECK(chance_of_filled(share, 72, 3, 68) >= 0.9);
    CHECK(chance_of_filled(share, 72, 2, 68) < 0.9);
    CHECK_FALSE(seeds_per_cell(share, 72, 72, 0.999, 3).has_value());
    // Where trays differ, cells of one tray fill or fail together.
    const std::vector<LotPoint> uneven = {{0.7, 0.2, 1}};
    CHECK(chance_of_filled(stand_share(uneven, all_of_it, 1), 72, 3, 68) <
          chance_of_filled(share, 72, 3, 68));
  }

  TEST_CASE("what was lost before, one after the other") {
    const auto through = share_seen(18, 20);
    double mean = 0;
    for (const FactorNode& node : through) mean += node.weight * node.factor;
    CHECK(mean == doctest::Approx(18.5 / 21).epsilon(5e-3));
    const auto both = one_after_other(through, through);
    double product = 0, weight = 0;
    for (const FactorNode& node : both) {
      product += node.weight * node.factor;
      weight += node.weight;
    }
    CHECK(weight == doctest::Approx(1));
    CHECK(product == doctest::Approx(mean * mean));
    CHECK_THROWS_AS(share_seen(3, 2), std::domain_error);
  }

  TEST_CASE("what cannot be asked") {
    const std::vector<LotPoint> lot = {{0.7, 0.1, 1}};
    const auto share = stand_share(lot, all_of_it, 1);
    CHECK_THROWS_AS(stand_share({}, all_of_it, 1), std::domain_error);
    CHECK_THROWS_AS(stand_share(lot, {}, 1), std::domain_error);
    CHECK_THROWS_AS(stand_share(lot, all_of_it, 0), std::domain_error);
    CHECK_THROWS_AS(stand_share(lot, std::vector<FactorNode>{{1.5, 1}}, 1), std::domain_error);
    CHECK_THROWS_AS(chance_of_stand(share, 0, 1), std::domain_error);
    CHECK_THROWS_AS(seeds_to_sow(share, 10, 1, 100), std::domain_error);
    CHECK_THROWS_AS(stand_range(share, 10, 0), std::domain_error);
    CHECK(chance_of_stand(share, 10, 0) == doctest::Approx(1));
    CHECK(chance_of_stand(share, 10, 11) == 0);
  }
}
