// The tray-aware interval against brute force, against cases with a closed form, and at its edges.
#include "stats/trays/tray_aware.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"
#include "tray_aware_brute.hpp"

using namespace plumule::stats;
using plumule::tests::BrutePosterior;

namespace {

void check_against_brute(const std::vector<TrayCount>& trays, double b, int nodes, int steps,
                         double scale = 0) {
  double up = 0, sown = 0;
  for (const auto& t : trays) {
    up += static_cast<double>(t.up);
    sown += static_cast<double>(t.sown);
  }
  CAPTURE(trays.size());
  CAPTURE(up);
  CAPTURE(sown);
  CAPTURE(b);
  const BrutePosterior brute(trays, b, nodes);
  const TrayAwarePosterior posterior(trays, rho_from_beta(b));
  const double centre = std::asin(std::sqrt(up / sown));
  if (scale == 0) scale = 0.5 / std::sqrt(sown);
  for (const double share : {0.025, 0.5, 0.975}) {
    const double phi = std::asin(std::sqrt(posterior.quantile(share)));
    CHECK_WITHIN(brute.miss_in_p(phi, share, centre, scale, steps), 0, 1e-6);
  }
  const double s = posterior.quantile(0.3);
  CHECK_WITHIN(posterior.probability_at_least(s), 0.7, 1e-9);
}

}  // namespace

TEST_CASE("tray-aware ends agree with brute force over settings and sizes") {
  check_against_brute({{40, 50}, {42, 50}, {38, 50}, {45, 50}}, 24, 240, 120);
  check_against_brute({{8, 10}, {9, 10}, {7, 10}}, 49, 240, 120);
  check_against_brute({{23, 25}, {12, 25}}, 14, 240, 120);
  check_against_brute({{40, 50}}, 24, 240, 120);                      // one tray
  check_against_brute({{20, 25}, {20, 25}, {20, 25}}, 24, 240, 120);  // identical trays
  check_against_brute({{3, 10}, {45, 50}, {1, 1}}, 24, 240, 120);     // unequal trays
  check_against_brute({{99, 100}, {100, 100}}, 49, 240, 120);
}

TEST_CASE("tray-aware ends agree with brute force where sowings contradict each other") {
  check_against_brute({{0, 50}, {50, 50}}, 24, 240, 160);
  check_against_brute({{0, 300}, {300, 300}, {300, 300}}, 14, 240, 160);
}

TEST_CASE("tray-aware ends agree with brute force at a million seeds") {
  check_against_brute({{900000, 1000000}}, 24, 280, 240);
  check_against_brute({{900000, 1000000}, {900000, 1000000}, {900000, 1000000}, {900000, 1000000}},
                      24, 280, 240);
  check_against_brute({{0, 1000000}, {1000000, 1000000}}, 24, 400, 200, 0.5);
  check_against_brute({{400000, 1000000}, {9, 10}, {8, 10}}, 24, 280, 240);
}

TEST_CASE("a thousand million seeds in one tree's crop still have an interval") {
  // simulation study, computed: 9e8 of 1e9, Beta(1, 39): 0.769447, 0.965241 (printed to six places)
  const std::vector<TrayCount> one{{900'000'000, 1'000'000'000}};
  const auto ends = tray_aware_interval(one, rho_from_beta(39));
  CHECK_WITHIN(ends.lower, 0.769447, 1e-6);
  CHECK_WITHIN(ends.upper, 0.965241, 1e-6);
}

TEST_CASE("with rho fixed at 0 the tray-aware posterior is Jeffreys' beta") {
  const std::vector<TrayCount> trays{{40, 50}, {42, 50}, {38, 50}};
  const TrayAwarePosterior posterior(trays, rho_fixed_at(0));
  for (const double q : {0.0005, 0.025, 0.5, 0.9, 0.9995})
    CHECK_CLOSE(posterior.quantile(q), beta_quantile(q, 120.5, 30.5), 1e-8);
  CHECK_CLOSE(posterior.probability_at_least(0.75), beta_upper(0.75, 120.5, 30.5), 1e-8);
  CHECK_CLOSE(posterior.mean(), 120.5 / 151, 1e-9);
}

TEST_CASE("sowings of one seed each cannot show rho, so its prior is nothing") {
  const std::vector<TrayCount> singles{{1, 1}, {1, 1}, {0, 1}, {1, 1}, {1, 1}};
  for (const double b : {14.0, 24.0, 49.0}) {
    const TrayAwarePosterior posterior(singles, rho_from_beta(b));
    CHECK_CLOSE(posterior.quantile(0.025), beta_quantile(0.025, 4.5, 1.5), 1e-8);
    CHECK_CLOSE(posterior.quantile(0.975), beta_quantile(0.975, 4.5, 1.5), 1e-8);
    CHECK_CLOSE(posterior.rho_mean(), 1 / (1 + b), 1e-6);
    // evidence B(4.5, 1.5) / B(0.5, 0.5)
    const double evidence =
        std::lgamma(4.5) + std::lgamma(1.5) - std::lgamma(6.0) - 2 * std::lgamma(0.5);
    CHECK_CLOSE(posterior.log_evidence(), evidence, 1e-7);
  }
}

TEST_CASE("a fixed rho gives the beta-binomial's own posterior") {
  // One tray of two, one up: likelihood p q + p q rho' up to a constant, so Beta(1.5, 1.5) at any
  // rho
  const std::vector<TrayCount> pair{{1, 2}};
  for (const double rho : {0.0, 0.05, 0.5, 0.9}) {
    const TrayAwarePosterior posterior(pair, rho_fixed_at(rho));
    CHECK_CLOSE(posterior.quantile(0.025), beta_quantile(0.025, 1.5, 1.5), 1e-8);
    CHECK_CLOSE(posterior.rho_mean(), rho, 1e-9);
  }
}

TEST_CASE("all sowings empty close the lower end, all full the upper, the other keeps its tail") {
  const std::vector<TrayCount> none{{0, 50}, {0, 50}}, all{{50, 50}, {50, 50}};
  const TrayAwarePosterior low(none, rho_from_beta(24)), high(all, rho_from_beta(24));
  CHECK(low.interval().lower == 0);
  CHECK(high.interval().upper == 1);
  CHECK_CLOSE(low.interval().upper, low.quantile(0.975), 1e-12);
  CHECK_CLOSE(high.interval().lower, high.quantile(0.025), 1e-12);
  CHECK_CLOSE(low.interval().upper, 1 - high.interval().lower, 1e-9);
  CHECK(low.interval(0.95, Side::lower).lower == 0);
  CHECK(high.interval(0.95, Side::upper).upper == 1);
}

TEST_CASE("one-sided limits and chances come from the same posterior") {
  const std::vector<TrayCount> trays{{18, 20}, {11, 20}};
  const TrayAwarePosterior posterior(trays, rho_from_beta(24));
  const auto lower = posterior.interval(0.9, Side::lower), both = posterior.interval(0.8);
  CHECK_CLOSE(lower.lower, both.lower, 1e-12);
  CHECK(lower.upper == 1);
  CHECK(lower.sides() == 1);
  CHECK(both.method == method::tray_aware);
  CHECK_WITHIN(posterior.probability_at_least(lower.lower), 0.9, 1e-9);
  CHECK(posterior.probability_at_least(0) == 1);
  CHECK(posterior.probability_at_least(1.01) == 0);
  CHECK(posterior.probability_at_least(-3) == 1);
  CHECK(posterior.interval(0.99).lower < both.lower);
  double mass = 0;
  for (const double w : posterior.rho_weights()) mass += w;
  CHECK_CLOSE(mass, 1, 1e-6);
}

TEST_CASE("what came up and what did not mirror each other, and order is nothing") {
  const std::vector<TrayCount> trays{{18, 20}, {11, 25}, {30, 31}};
  std::vector<TrayCount> mirrored, turned(trays.rbegin(), trays.rend());
  for (const auto& t : trays) mirrored.push_back({t.sown - t.up, t.sown});
  const auto ends = tray_aware_interval(trays, rho_from_beta(14));
  const auto mirror = tray_aware_interval(mirrored, rho_from_beta(14));
  const auto other = tray_aware_interval(turned, rho_from_beta(14));
  CHECK_CLOSE(ends.lower, 1 - mirror.upper, 1e-8);
  CHECK_CLOSE(ends.upper, 1 - mirror.lower, 1e-8);
  CHECK(ends.lower == other.lower);
  CHECK(ends.upper == other.upper);
}

TEST_CASE("many sowings are no harder than few") {
  // 2,000 trays that agree: near the binomial of the pooled count at rho fixed 0
  const std::vector<TrayCount> many(2000, TrayCount{40, 50});
  const auto fixed = tray_aware_interval(many, rho_fixed_at(0));
  CHECK_CLOSE(fixed.lower, beta_quantile(0.025, 80000.5, 20000.5), 1e-8);
  const auto ends = tray_aware_interval(many, rho_from_beta(24));
  CHECK(ends.lower < 0.8);
  CHECK(ends.upper > 0.8);
  CHECK(ends.upper - ends.lower < 0.006);
}

TEST_CASE("no sowings: the whole interval, said so, and the prior alone") {
  const TrayAwarePosterior posterior({}, rho_from_beta(24));
  CHECK(posterior.status() == TrayAwareStatus::no_trays);
  CHECK(posterior.interval().lower == 0);
  CHECK(posterior.interval().upper == 1);
  CHECK_WITHIN(posterior.probability_at_least(0.5), 0.5, 1e-9);
  CHECK_WITHIN(posterior.log_evidence(), 0, 1e-6);
}

TEST_CASE("counts, levels and priors that cannot be are refused") {
  const auto prior = rho_from_beta(24);
  const std::vector<TrayCount> over{{3, 2}}, negative{{-1, 2}}, nothing{{0, 0}},
      huge{{1, 1'000'000'001}}, fine{{1, 2}};
  for (const auto* bad : {&over, &negative, &nothing, &huge})
    CHECK_THROWS_AS(TrayAwarePosterior(*bad, prior), std::domain_error);
  CHECK_THROWS_AS(tray_aware_interval(fine, prior, 1.0), std::domain_error);
  CHECK_THROWS_AS(tray_aware_interval(fine, prior, 0.0), std::domain_error);
  CHECK_THROWS_AS(TrayAwarePosterior(fine, prior).quantile(1.5), std::domain_error);
  CHECK_THROWS_AS(TrayAwarePosterior(fine, prior)
                      .probability_at_least(std::numeric_limits<double>::quiet_NaN()),
                  std::domain_error);
}
