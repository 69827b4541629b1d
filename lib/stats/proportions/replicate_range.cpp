// See the header.
#include "stats/proportions/replicate_range.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/numeric/count_probability.hpp"
#include "stats/numeric/distributions.hpp"
#include "stats/numeric/root.hpp"
#include "stats/proportions/replicate_range_table.hpp"

namespace plumule::stats {
namespace {

constexpr double chance = 0.025;      // of a range too large by chance alone
constexpr double most_exact = 20000;  // seeds of a replicate

void check(int m, double n, double fraction) {
  if (m < 2 || !(n >= 1) || !std::isfinite(n) || n != std::floor(n) ||
      !(fraction >= 0 && fraction <= 1))
    throw std::domain_error(
        "a range needs two replicates or more of a whole number of seeds, and a mean from 0 to 1");
}

// Cumulative binomial: at[k] is P(X < k), k from 0 to n + 1.
std::vector<double> below(double n, double p) {
  std::vector<double> at(static_cast<std::size_t>(n) + 2);
  for (std::size_t k = 0; k + 1 < at.size(); ++k)
    at[k + 1] = at[k] + binomial_probability(static_cast<double>(k), n, p);
  return at;
}

// Sum over the least count x of P(all within x to x + t) less P(all within x + 1 to x + t).
double exceeds(const std::vector<double>& at, int m, std::size_t t) {
  const std::size_t n = at.size() - 2;
  double within = 0;
  for (std::size_t x = 0; x <= n; ++x) {
    const double top = at[std::min(x + t, n) + 1];
    within += std::pow(top - at[x], m) - std::pow(top - at[x + 1], m);
  }
  return std::clamp(1 - within, 0.0, 1.0);
}

// P(range of m standard normals > w).
double normal_range_exceeds(int m, double w) {
  constexpr double step = 1.0 / 64;
  double within = 0;
  for (double z = -9; z <= 9 + w; z += step)  // z: the largest
    within += std::exp(-z * z / 2) * std::pow(normal_lower(z) - normal_lower(z - w), m - 1);
  return 1 - within * step * m / std::sqrt(2 * std::numbers::pi);
}

}  // namespace

double range_exceeds(int m, double n, double p, double t) {
  check(m, n, p);
  if (n > most_exact) throw std::domain_error("the exact range is for replicates to 20,000 seeds");
  if (!(t >= 0)) return 1;
  if (t >= n) return 0;
  return exceeds(below(n, p), m, static_cast<std::size_t>(t));
}

ToleratedRange computed_range(int m, double n, double fraction) {
  check(m, n, fraction);
  if (n > most_exact) {
    const double q =
        find_root([&](double w) { return normal_range_exceeds(m, w) - chance; }, 0.1, 20);
    const double seeds = std::round(q * std::sqrt(n * fraction * (1 - fraction)));
    return {seeds, 100 * seeds / n, RangeSource::normal, std::numeric_limits<double>::quiet_NaN()};
  }
  const std::vector<double> at = below(n, fraction);
  std::size_t low = 0, high = at.size() - 2;  // the range sought lies in low..high
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    if (exceeds(at, m, middle) <= chance)
      high = middle;
    else
      low = middle + 1;
  }
  const double seeds = static_cast<double>(low);
  return {seeds, 100 * seeds / n, RangeSource::exact, exceeds(at, m, low)};
}

ToleratedRange tolerated_range(int m, double n, double fraction) {
  check(m, n, fraction);
  if (n == 100 && (m == 4 || m == 2)) {
    // A mean such as 0.145 is stored a little off: the half is looked for with that allowance.
    const int mean = static_cast<int>(std::floor(100 * fraction + 0.5 + 1e-9));
    for (const PublishedRange& row : published_ranges) {
      const int range = m == 4 ? row.four : row.two;
      if ((row.high == mean || row.low == mean) && range > 0)
        return {static_cast<double>(range), static_cast<double>(range), RangeSource::table,
                range_exceeds(m, n, fraction, range)};
    }
  }
  return computed_range(m, n, fraction);
}

RangeCheck check_range(std::span<const Tally> trays) {
  RangeCheck result{RangeStatus::too_few};
  double n = 0, x = 0, highest = 0, lowest = std::numeric_limits<double>::infinity();
  int m = 0;
  bool equal = true;
  for (const Tally& tray : trays) {
    if (tray.n() == 0) continue;
    equal = equal && (m == 0 || tray.n() == n);
    n = tray.n();
    x += tray.x();
    highest = std::max(highest, tray.x());
    lowest = std::min(lowest, tray.x());
    ++m;
  }
  if (m < 2) return result;
  result.status = RangeStatus::unequal_sizes;
  if (!equal) return result;
  result.status = RangeStatus::ok;
  result.range_seeds = highest - lowest;
  result.range_percent = 100 * result.range_seeds / n;
  result.tolerated = tolerated_range(m, n, x / (m * n));
  result.within = result.range_seeds <= result.tolerated.seeds;
  return result;
}

}  // namespace plumule::stats
