// See the header.
#include "stats/replicates.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <vector>

#include "stats/distributions.hpp"
#include "stats/random.hpp"

namespace plumule::stats {
namespace {

constexpr double tie = 1e-9;

double distance(double x, const Tally& tray, double p) {
  const double off = x - tray.n() * p;
  return off * off / (tray.n() * p * (1 - p));
}

}  // namespace

std::optional<Heterogeneity> heterogeneity(std::span<const Tally> given, std::uint64_t seed,
                                           std::int64_t draws) {
  if (draws < 1) throw std::domain_error("a Monte Carlo p needs at least one draw");
  std::vector<Tally> trays;
  double n = 0, x = 0;
  bool whole = true;
  for (const Tally& tray : given) {
    if (tray.n() == 0) continue;
    trays.push_back(tray);
    n += tray.n();
    x += tray.x();
    whole = whole && tray.whole();
  }
  if (trays.size() < 2 || x == 0 || x == n) return std::nullopt;
  std::sort(trays.begin(), trays.end(), [](const Tally& a, const Tally& b) {
    return std::make_tuple(a.n(), a.x()) < std::make_tuple(b.n(), b.x());
  });

  const double p = x / n;
  Heterogeneity result{};
  for (const Tally& tray : trays) result.chi_squared += distance(tray.x(), tray, p);
  result.df = static_cast<double>(trays.size()) - 1;
  result.p = result.p_chi_squared = chi_squared_upper(result.chi_squared, result.df);
  result.drawn = whole && trays.front().n() * std::min(p, 1 - p) < 5;
  if (!result.drawn) return result;

  Random random(seed);
  std::int64_t far = 1;
  for (std::int64_t draw = 0; draw < draws; ++draw) {
    auto seeds = static_cast<std::int64_t>(n), up = static_cast<std::int64_t>(x);
    double sum = 0;
    for (const Tally& tray : trays) {
      const auto size = static_cast<std::int64_t>(tray.n());
      const std::int64_t here = random.hypergeometric(seeds, up, size);
      sum += distance(static_cast<double>(here), tray, p);
      seeds -= size;
      up -= here;
    }
    if (sum >= result.chi_squared - tie) ++far;
  }
  result.draws = draws;
  result.seed = seed;
  result.p = static_cast<double>(far) / static_cast<double>(draws + 1);
  return result;
}

}  // namespace plumule::stats
