// See the header.
#include "stats/trays/design_effect.hpp"

#include <algorithm>
#include <cmath>

#include "stats/numeric/distributions.hpp"
#include "stats/proportions/proportion.hpp"

namespace plumule::stats {

std::optional<DesignEffect> design_effect(std::span<const Tally> trays, double level) {
  const double tail = tail_probability(level, Side::both);
  double n = 0, x = 0, k = 0;
  for (const Tally& tray : trays) {
    n += tray.n();
    x += tray.x();
    k += tray.n() > 0 ? 1 : 0;
  }
  if (k < 2) return std::nullopt;
  const double p = x / n, binomial = p * (1 - p) / n;
  double squares = 0;
  for (const Tally& tray : trays) squares += std::pow(tray.x() - tray.n() * p, 2);
  DesignEffect result{};
  result.fraction = p;
  result.se = std::sqrt(k / (k - 1) * squares) / n;
  result.design_effect = binomial > 0 ? result.se * result.se / binomial : 1;
  result.n_effective = n / std::max(1.0, result.design_effect);
  result.trays = static_cast<int>(k);
  result.df = k - 1;
  // Fewer degrees of freedom: as if from fewer seeds still. One seed a tray keeps the ratio at 1.
  double count = result.n_effective;
  if (n > k) {
    const double ratio =
        student_t_quantile_upper(tail, n - 1) / student_t_quantile_upper(tail, k - 1);
    count *= ratio * ratio;
  }
  const Interval exact = clopper_pearson({std::min(count, p * count), count}, level);
  result.interval = {method::design_effect, level, exact.lower, exact.upper};
  return result;
}

}  // namespace plumule::stats
