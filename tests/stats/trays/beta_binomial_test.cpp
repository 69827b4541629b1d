// The beta-binomial: its likelihood against gamma functions, the fit against a plain grid,
// boundaries. Crowder's plates are in crowder_test.cpp.
#include "stats/trays/beta_binomial.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// Textbook form with log gamma functions.
double textbook(const std::vector<Tally>& trays, double p, double rho) {
  const double a = p * (1 - rho) / rho, b = (1 - p) * (1 - rho) / rho;
  const auto log_beta = [](double u, double v) {
    return std::lgamma(u) + std::lgamma(v) - std::lgamma(u + v);
  };
  double sum = 0;
  for (const Tally& t : trays)
    sum += std::lgamma(t.n() + 1) - std::lgamma(t.x() + 1) - std::lgamma(t.failures() + 1) +
           log_beta(a + t.x(), b + t.failures()) - log_beta(a, b);
  return sum;
}

const std::vector<Tally> uneven{{18, 25}, {24, 25}, {12, 25}, {21, 25}};

}  // namespace

TEST_CASE("the likelihood is that of the gamma functions") {
  for (const double p : {0.02, 0.5, 0.9})
    for (const double rho : {0.001, 0.05, 0.5, 0.99})
      CHECK_CLOSE(beta_binomial_log_likelihood(uneven, p, rho), textbook(uneven, p, rho), 1e-10);
}

TEST_CASE("without correlation it is the binomial") {
  // C(10, 3) 0.3^3 0.7^7 = 0.266827932
  CHECK_CLOSE(std::exp(beta_binomial_log_likelihood(std::vector<Tally>{{3, 10}}, 0.3, 0)),
              0.266827932, 1e-9);
  CHECK_CLOSE(beta_binomial_log_likelihood(uneven, 0.7, 1e-12),
              beta_binomial_log_likelihood(uneven, 0.7, 0), 1e-9);
}

TEST_CASE("impossible data and empty trays") {
  CHECK(beta_binomial_log_likelihood(std::vector<Tally>{{3, 10}}, 0, 0.1) ==
        -std::numeric_limits<double>::infinity());
  CHECK(beta_binomial_log_likelihood(std::vector<Tally>{{0, 10}}, 0, 0.1) == 0);
  CHECK(beta_binomial_log_likelihood(std::vector<Tally>{{0, 0}}, 0.4, 0.1) == 0);
  CHECK_THROWS_AS(beta_binomial_log_likelihood(uneven, 1.1, 0), std::domain_error);
  CHECK_THROWS_AS(beta_binomial_log_likelihood(uneven, 0.5, 1), std::domain_error);
  CHECK_THROWS_AS(beta_binomial_log_likelihood(std::vector<Tally>{{0.5, 3}}, 0.5, 0.1),
                  std::domain_error);
}

TEST_CASE("the fit is the top of a grid, and its errors are the curvature there") {
  Random random(11);
  int inner = 0, boundary = 0;
  for (int set = 0; set < 40; ++set) {
    std::vector<Tally> trays;
    for (int i = 0; i < 5; ++i)
      trays.emplace_back(random.beta_binomial(20, 0.7, set % 3 == 0 ? 0.0 : 0.1), 20);
    const BetaBinomialFit fit = fit_beta_binomial(trays);
    double best = -1e300;
    for (double p = 0.3; p < 0.97; p += 0.01)
      for (double rho = 0; rho < 0.6; rho += 0.02)
        best = std::max(best, beta_binomial_log_likelihood(trays, p, rho));
    CHECK(fit.log_likelihood >= best - 1e-10);
    CHECK(fit.log_likelihood <= best + 0.1);
    CHECK_CLOSE(fit.log_likelihood, beta_binomial_log_likelihood(trays, fit.p[0], fit.rho), 1e-11);
    if (fit.status == BetaBinomialStatus::rho_zero) {
      ++boundary;
      CHECK(fit.rho == 0);
      continue;
    }
    REQUIRE(fit.status == BetaBinomialStatus::ok);
    ++inner;
    if (fit.rho < 0.02) continue;  // the differences below would step over the boundary
    const auto l = [&](double dp, double dr) {
      return beta_binomial_log_likelihood(trays, fit.p[0] + dp, fit.rho + dr);
    };
    const double h = 1e-3;
    const double pp = (l(h, 0) - 2 * l(0, 0) + l(-h, 0)) / (h * h);
    const double rr = (l(0, h) - 2 * l(0, 0) + l(0, -h)) / (h * h);
    const double pr = (l(h, h) - l(h, -h) - l(-h, h) + l(-h, -h)) / (4 * h * h);
    const double det = pp * rr - pr * pr;
    CHECK_CLOSE(fit.se_p(), std::sqrt(-rr / det), 5e-3);
    CHECK_CLOSE(fit.se_rho(), std::sqrt(-pp / det), 5e-3);
  }
  CHECK(inner >= 15);
  CHECK(boundary >= 5);
}

TEST_CASE("boundaries and what cannot be estimated") {
  const auto status = [](std::vector<Tally> t) { return fit_beta_binomial(t).status; };
  CHECK(status({{10, 20}, {10, 20}, {10, 20}}) == BetaBinomialStatus::rho_zero);
  CHECK(status({{20, 20}, {0, 20}, {20, 20}}) == BetaBinomialStatus::rho_one);
  CHECK(status({{0, 50}, {50, 50}}) == BetaBinomialStatus::rho_one);
  CHECK(status({{7, 20}}) == BetaBinomialStatus::not_estimable);
  CHECK(status({{1, 1}, {0, 1}, {1, 1}}) == BetaBinomialStatus::not_estimable);
  CHECK(status({{20, 20}, {20, 20}}) == BetaBinomialStatus::not_estimable);
  CHECK(status({}) == BetaBinomialStatus::not_estimable);
  const BetaBinomialFit flat = fit_beta_binomial(std::vector<Tally>{{10, 20}, {11, 20}});
  CHECK_CLOSE(flat.se_p(), std::sqrt(21.0 / 40 * 19 / 40 / 40), 1e-12);
  CHECK(std::isnan(flat.se_rho()));
  const BetaBinomialFit one = fit_beta_binomial(std::vector<Tally>{{20, 20}, {0, 20}, {20, 20}});
  CHECK_CLOSE(one.p[0], 2.0 / 3, 1e-14);
  CHECK_CLOSE(one.log_likelihood, 2 * std::log(2.0 / 3) + std::log(1.0 / 3), 1e-13);
}

TEST_CASE("order of trays is nothing, and what did not come up mirrors") {
  std::vector<Tally> trays = uneven, down;
  const BetaBinomialFit fit = fit_beta_binomial(trays);
  std::reverse(trays.begin(), trays.end());
  CHECK_CLOSE(fit_beta_binomial(trays).rho, fit.rho, 1e-9);
  for (const Tally& t : trays) down.emplace_back(t.failures(), t.n());
  CHECK_CLOSE(fit_beta_binomial(down).rho, fit.rho, 1e-9);
  CHECK_CLOSE(fit_beta_binomial(down).p[0], 1 - fit.p[0], 1e-9);
  CHECK_CLOSE(fit_beta_binomial(down).se_rho(), fit.se_rho(), 1e-6);
  CHECK_CLOSE(*moment_rho(down), *moment_rho(trays), 1e-11);
}

TEST_CASE("a thousand million seeds a tray are fitted") {
  // Spread far above binomial: rho is then that of the fractions, by moments to first order.
  const std::vector<Tally> trays{
      {6.0e8, 1e9}, {6.4e8, 1e9}, {5.6e8, 1e9}, {6.2e8, 1e9}, {5.8e8, 1e9}};
  const BetaBinomialFit fit = fit_beta_binomial(trays);
  REQUIRE(fit.status == BetaBinomialStatus::ok);
  CHECK_WITHIN(fit.p[0], 0.6, 1e-4);
  CHECK_WITHIN(fit.rho, 8e-4 / 0.24, 1e-4);  // mean square 8e-4 over p q
}

TEST_CASE("the moment estimate may be negative, and needs something to go by") {
  CHECK(*moment_rho(std::vector<Tally>{{10, 20}, {10, 20}}) < 0);
  CHECK_CLOSE(*moment_rho(std::vector<Tally>{{20, 20}, {0, 20}}), 1, 1e-14);
  CHECK_FALSE(moment_rho(std::vector<Tally>{{10, 20}}).has_value());
  CHECK_FALSE(moment_rho(std::vector<Tally>{{20, 20}, {20, 20}}).has_value());
  CHECK_FALSE(moment_rho(std::vector<Tally>{{1, 1}, {0, 1}}).has_value());
}
