// The Bayes factor for a difference against plain sums over a grid, and its plain properties.
#include "stats/trays/bayes_factor.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// rho ~ Beta(1, 19) by Simpson over its logit, the angles by the midpoint rule.
double brute_factor(const std::vector<TrayCount>& first, const std::vector<TrayCount>& second) {
  constexpr std::size_t cells = 400;
  constexpr int nodes = 160;
  const double cell = std::numbers::pi / 2 / cells, from = -14, to = 4, step = (to - from) / nodes;
  const auto height = [&](const std::vector<TrayCount>& trays, double rho, std::size_t i) {
    const double s = std::sin(cell * (static_cast<double>(i) + 0.5)), p = s * s;
    const double scale = (1 - rho) / rho;
    double log_l = 0;
    for (const auto& t : trays) {
      const double x = static_cast<double>(t.up), n = static_cast<double>(t.sown);
      log_l += std::lgamma(p * scale + x) - std::lgamma(p * scale) +
               std::lgamma((1 - p) * scale + n - x) - std::lgamma((1 - p) * scale) -
               std::lgamma(scale + n) + std::lgamma(scale);
    }
    return std::exp(log_l);
  };
  double differing = 0, kernel_mass = 0, same = 0;
  for (std::size_t i = 0; i < cells; ++i)
    for (std::size_t j = 0; j < cells; ++j) {
      const double apart = cell * (static_cast<double>(i) - static_cast<double>(j)) / 0.2;
      kernel_mass += std::exp(-0.5 * apart * apart);
    }
  for (int r = 0; r <= nodes; ++r) {
    const double rho = 1 / (1 + std::exp(-(from + step * r)));
    const double simpson = (r == 0 || r == nodes ? 1 : r % 2 == 1 ? 4 : 2) * step / 3;
    const double weight = simpson * 19 * std::pow(1 - rho, 19) * rho;
    std::vector<double> one, two;
    for (std::size_t i = 0; i < cells; ++i) {
      one.push_back(height(first, rho, i));
      two.push_back(height(second, rho, i));
      same += weight * one[i] * two[i] / cells;
    }
    for (std::size_t i = 0; i < cells; ++i)
      for (std::size_t j = 0; j < cells; ++j) {
        const double apart = cell * (static_cast<double>(i) - static_cast<double>(j)) / 0.2;
        differing += weight * one[i] * two[j] * std::exp(-0.5 * apart * apart) / kernel_mass;
      }
  }
  return differing / same;
}

const std::vector<TrayCount> good{{9, 10}, {10, 10}}, poor{{5, 10}, {6, 10}, {4, 10}};

}  // namespace

TEST_CASE("the Bayes factor agrees with plain sums over a grid") {
  CHECK_CLOSE(stand_bayes_factor(good, poor).value, brute_factor(good, poor), 1e-4);
  CHECK_CLOSE(stand_bayes_factor(poor, poor).value, brute_factor(poor, poor), 1e-4);
}

TEST_CASE("the Bayes factor takes either treatment first, and tells same from different") {
  CHECK_CLOSE(stand_bayes_factor(good, poor).log_value, stand_bayes_factor(poor, good).log_value,
              1e-7);
  CHECK(stand_bayes_factor(poor, poor).value < 1);
  const std::vector<TrayCount> high(6, {45, 50}), low(6, {20, 50});
  CHECK(stand_bayes_factor(high, low).value > 20);
  CHECK_CLOSE(std::log(stand_bayes_factor(high, low).value),
              stand_bayes_factor(high, low).log_value, 1e-12);
}

TEST_CASE("without sowings on both sides there is no Bayes factor") {
  CHECK_FALSE(stand_bayes_factor({}, poor).given);
  CHECK(stand_bayes_factor({}, poor).value == 1);
  CHECK_THROWS_AS(stand_bayes_factor(good, poor, {19, -1}, 0), std::domain_error);
}
