// The beta-binomial likelihood: both roads to it against log Gamma in long double.
#include "stats/trays/tray_likelihood.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

double direct(const std::vector<TrayCount>& trays, long double p, long double theta) {
  const auto rising = [theta](long double start, std::int64_t n) {
    if (n == 0) return 0.0L;
    const long double z = start / theta, count = static_cast<long double>(n);
    return lgammal(z + count) - lgammal(z) + count * std::log(theta);
  };
  long double sum = 0;
  for (const auto& t : trays)
    sum += rising(p, t.up) + rising(1 - p, t.sown - t.up) - rising(1, t.sown);
  return static_cast<double>(sum);
}

void check_both_roads(const std::vector<TrayCount>& trays) {
  const TrayLikelihood likelihood(trays);
  const std::vector<double> p{0.03, 0.2, 0.5, 0.77, 0.9, 0.999};
  std::vector<double> q, relative(p.size());
  for (const double value : p) q.push_back(1 - value);
  for (const double theta : {1e-5, 0.003, 0.05, 0.7, 30.0}) {
    CAPTURE(theta);
    for (std::size_t i = 0; i < p.size(); ++i)
      CHECK_WITHIN(likelihood.log_at(p[i], q[i], theta), direct(trays, p[i], theta), 1e-8);
    TrayLikelihood::Ready ready;
    likelihood.prepare(theta, 0.6, ready);
    CHECK_WITHIN(ready.at[0].log_reference, direct(trays, 0.6L, theta), 1e-8);
    likelihood.relative(ready, 0, p, q, relative);
    for (std::size_t i = 0; i < p.size(); ++i) {
      const double expected = direct(trays, p[i], theta) - direct(trays, 0.6L, theta);
      if (expected > -300) CHECK_WITHIN(std::log(relative[i]), expected, 1e-8);
    }
  }
}

}  // namespace

TEST_CASE("products and logarithms give the likelihood of small sowings") {
  check_both_roads({{20, 25}, {19, 25}, {25, 25}, {0, 10}});
  check_both_roads({{1, 1}, {0, 1}});
  check_both_roads({{250, 300}, {30, 300}});
}

TEST_CASE("sowings over 300 seeds, and many sowings at once, keep their likelihood") {
  check_both_roads({{700, 1000}, {3, 10}});
  check_both_roads(std::vector<TrayCount>(60, TrayCount{33, 50}));
}

TEST_CASE("with rho 0 the likelihood is the binomial's") {
  const std::vector<TrayCount> trays{{20, 25}, {3, 400}};
  const TrayLikelihood likelihood(trays);
  CHECK_CLOSE(likelihood.log_at(0.3, 0.7, 0), 23 * std::log(0.3) + 402 * std::log(0.7), 1e-12);
}

TEST_CASE("at p 0 and 1 only what agrees is possible") {
  const std::vector<TrayCount> none{{0, 500}}, some{{3, 500}};
  CHECK(TrayLikelihood(none).log_at(0, 1, 0.1) == 0);
  CHECK(std::isinf(TrayLikelihood(some).log_at(0, 1, 0.1)));
  CHECK(std::isinf(TrayLikelihood(none).log_at(1, 0, 0.1)));
}

TEST_CASE("a large rho weighs sowings alike, a rho of 0 by their seeds") {
  const std::vector<TrayCount> trays{{90, 100}, {1, 10}};
  const TrayLikelihood likelihood(trays);
  CHECK_CLOSE(likelihood.weighted_fraction(0), 91.0 / 110, 1e-12);
  CHECK_CLOSE(likelihood.weighted_fraction(1), 0.5, 1e-12);
  CHECK_CLOSE(likelihood.effective_seeds(0), 110, 1e-12);
  CHECK_CLOSE(likelihood.effective_seeds(1), 2, 1e-12);
}

TEST_CASE("the likely fraction of very large sowings is near the top of the likelihood") {
  // a million seeds all but one up, beside ten: the weighted fraction is far off at rho 0.1
  const std::vector<TrayCount> trays{{999999, 1000000}, {3, 10}};
  const TrayLikelihood likelihood(trays);
  const double rho = 0.1, theta = rho / (1 - rho), p = likelihood.likely_fraction(rho);
  double top = -1e300;
  for (int i = 1; i < 20000; ++i) {
    const double phi = 1.5707963 * i / 20000, s = std::sin(phi), c = std::cos(phi);
    top = std::max(top, likelihood.log_at(s * s, c * c, theta));
  }
  CHECK_WITHIN(likelihood.log_at(p, 1 - p, theta), top, 0.5);
  CHECK(likelihood.log_at(p, 1 - p, theta) >
        likelihood.log_at(likelihood.weighted_fraction(rho), 1 - likelihood.weighted_fraction(rho),
                          theta) +
            5);
}
