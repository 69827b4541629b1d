// The beta-binomial of the total, summed over what is believed of p and rho.
#include "stats/trays/fresh_sowing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"
#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {
namespace {

constexpr double most_counted = 2000;       // seeds whose chances are reckoned one by one
constexpr double most_tray_by_tray = 1000;  // and of several trays, each by itself

// The trays of a test, as far as its total goes.
struct TestSize {
  double seeds = 0;
  double pairs = 0;  // of seeds in the same tray, each pair twice

  void add(std::int64_t tray) {
    const double n = static_cast<double>(tray);
    seeds += n;
    pairs += n * (n - 1);
  }
  // Correlation of two seeds of the test, trays unknown: it gives the total its variance.
  double rho(double within) const { return seeds > 1 ? within * pairs / (seeds * (seeds - 1)) : 0; }
};

// The beta-binomial chances of 0 .. n: from the likeliest outwards by the ratio of neighbours, so
// that nothing overflows.
void beta_binomial_chances(double p, double rho, std::vector<double>& chances) {
  const std::size_t n = chances.size() - 1;
  const double q = 1 - p, theta = rho / (1 - rho);
  const auto next_over_this = [&](std::size_t x) {
    const double up = static_cast<double>(x), down = static_cast<double>(n - x);
    return down / (up + 1) * (p + up * theta) / (q + (down - 1) * theta);
  };
  const auto middle = static_cast<std::size_t>(static_cast<double>(n) * p);
  chances[middle] = 1;
  double sum = 1;
  for (std::size_t x = middle; x < n; ++x) sum += chances[x + 1] = chances[x] * next_over_this(x);
  for (std::size_t x = middle; x > 0; --x)
    sum += chances[x - 1] = chances[x] / next_over_this(x - 1);
  for (double& chance : chances) chance /= sum;
}

// Chances of the total of `trays` and one more tray.
std::vector<double> with_another(const std::vector<double>& trays, const std::vector<double>& one) {
  std::vector<double> total(trays.size() + one.size() - 1);
  for (std::size_t i = 0; i < trays.size(); ++i)
    for (std::size_t j = 0; j < one.size(); ++j) total[i + j] += trays[i] * one[j];
  return total;
}

std::vector<double> tray_by_tray(const LotPoint& point, std::span<const std::int64_t> sown) {
  std::vector<double> total{1}, one;
  for (std::size_t i = 0; i < sown.size(); ++i) {
    if (i == 0 || sown[i] != sown[i - 1]) {
      one.resize(static_cast<std::size_t>(sown[i]) + 1);
      beta_binomial_chances(point.p, point.rho, one);
    }
    total = with_another(total, one);
  }
  return total;
}

std::vector<double> chances_of(std::span<const LotPoint> lot, std::span<const std::int64_t> sown) {
  TestSize size;
  for (const auto tray : sown) size.add(tray);
  std::vector<double> chances(static_cast<std::size_t>(size.seeds) + 1), total(chances.size());
  for (const LotPoint& point : lot) {
    if (sown.size() > 1 && size.seeds <= most_tray_by_tray)
      total = tray_by_tray(point, sown);
    else
      beta_binomial_chances(point.p, size.rho(point.rho), total);
    for (std::size_t x = 0; x < chances.size(); ++x) chances[x] += point.weight * total[x];
  }
  return chances;
}

}  // namespace

std::vector<double> fresh_test_chances(std::span<const LotPoint> lot,
                                       std::span<const std::int64_t> sown) {
  double seeds = 0;
  for (const auto tray : sown) {
    if (tray < 1) throw std::domain_error("a tray of a fresh test needs a seed at least");
    seeds += static_cast<double>(tray);
  }
  if (sown.empty() || seeds > most_counted)
    throw std::domain_error("a fresh test needs 1 to 2000 seeds");
  return chances_of(lot, sown);
}

double mid_p(std::span<const double> chances, std::int64_t x) {
  if (x < 0 || x >= static_cast<std::int64_t>(chances.size()))
    throw std::domain_error("a count lies between 0 and the seeds of its test");
  double below = 0.5 * chances[static_cast<std::size_t>(x)], above = below;
  for (std::size_t i = 0; i < chances.size(); ++i) {
    if (static_cast<std::int64_t>(i) < x) below += chances[i];
    if (static_cast<std::int64_t>(i) > x) above += chances[i];
  }
  return std::min(below, above);
}

double fresh_test_mid_p(std::span<const LotPoint> lot, std::span<const TrayCount> fresh) {
  check_trays(fresh);
  if (fresh.empty()) throw std::domain_error("a fresh test needs a tray at least");
  TestSize size;
  std::int64_t up = 0;
  std::vector<std::int64_t> sown;
  for (const auto& tray : fresh) {
    size.add(tray.sown);
    sown.push_back(tray.sown);
    up += tray.up;
  }
  if (size.seeds <= most_counted) return mid_p(chances_of(lot, sown), up);
  const double share = static_cast<double>(up) / size.seeds;
  double below = 0, above = 0;
  for (const LotPoint& point : lot) {
    // The variance of the share is c p q, and that of a beta variable p q / (a + b + 1).
    const double c = (1 + (size.seeds - 1) * size.rho(point.rho)) / size.seeds;
    const double a = point.p * (1 / c - 1), b = (1 - point.p) * (1 / c - 1);
    below += point.weight * beta_lower(share, a, b);
    above += point.weight * beta_upper(share, a, b);
  }
  return std::min(below, above);
}

std::vector<double> fresh_sowing_chances(std::span<const TrayCount> trays, const RhoPrior& prior,
                                         std::int64_t n) {
  if (n < 1 || n > 1000) throw std::domain_error("a fresh sowing needs 1 to 1000 seeds");
  const std::array<std::int64_t, 1> sown{n};
  return fresh_test_chances(lot_belief(trays, prior, n), sown);
}

}  // namespace plumule::stats
