// See the header.
#include "stats/proportions/trend.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {

std::optional<TrendTest> cochran_armitage(std::span<const DoseGroup> groups) {
  std::map<double, Tally> doses;  // groups of one dose pooled, so that only doses are compared
  for (const DoseGroup& g : groups) {
    if (!std::isfinite(g.dose)) throw std::domain_error("a dose must be a finite number");
    if (g.tally.n() == 0) continue;
    const auto [at, is_new] = doses.emplace(g.dose, g.tally);
    if (!is_new) at->second = Tally(at->second.x() + g.tally.x(), at->second.n() + g.tally.n());
  }
  double n = 0, x = 0, weighted = 0;
  for (const auto& [dose, tally] : doses) {
    n += tally.n();
    x += tally.x();
    weighted += tally.n() * dose;
  }
  if (doses.size() < 2 || x == 0 || x == n) return std::nullopt;
  const double p = x / n, centre = weighted / n;
  // Doses less their mean: the same score, and no loss when doses are large.
  double score = 0, spread = 0, pearson = 0;
  for (const auto& [dose, tally] : doses) {
    const double off = tally.x() - tally.n() * p;
    score += (dose - centre) * off;
    spread += tally.n() * (dose - centre) * (dose - centre);
    pearson += off * off / (tally.n() * p * (1 - p));
  }
  const double z = score / std::sqrt(p * (1 - p) * spread);
  const double df = static_cast<double>(doses.size()) - 1, rest = std::max(0.0, pearson - z * z);
  const double p_rest = df > 1 ? chi_squared_upper(rest, df - 1) : 1;
  return TrendTest{score,
                   z,
                   2 * normal_upper(std::fabs(z)),
                   {pearson, df, chi_squared_upper(pearson, df)},
                   {rest, df - 1, p_rest}};
}

}  // namespace plumule::stats
