// The pooled t on fractions of few seeds takes few values, and its critical point may fall just
// short of a likely one: the error of a cell by adding up every outcome, and what that one value
// adds.
#include <cmath>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "parts.hpp"
#include "stats/numeric/count_probability.hpp"
#include "stats/numeric/distributions.hpp"

namespace plumule::calibration {
namespace {

// One arm: the sum of its k counts, k times their squares' sum less the squared sum, its chance.
struct Arm {
  long sum, spread;
  double chance;
};

std::vector<Arm> every_arm(int k, int n, double p) {
  std::map<std::pair<long, long>, double> chances;
  std::vector<double> tray;
  for (int x = 0; x <= n; ++x) tray.push_back(stats::binomial_probability(x, n, p));
  const std::function<void(int, long, long, double)> add = [&](int left, long sum, long squares,
                                                               double chance) {
    if (left == 0) {
      chances[{sum, k * squares - sum * sum}] += chance;
      return;
    }
    for (long x = 0; x <= n; ++x)
      add(left - 1, sum + x, squares + x * x, chance * tray[static_cast<std::size_t>(x)]);
  };
  add(k, 0, 0, 1);
  std::vector<Arm> made;
  for (const auto& [values, chance] : chances)
    made.push_back({values.first, values.second, chance});
  return made;
}

}  // namespace

LatticeError pooled_t_error(int k, int n, double p) {
  const auto arms = every_arm(k, n, p);
  const double df = 2 * k - 2, critical = stats::student_t_quantile_upper(0.025, df);
  // t squared is df (difference of sums)^2 / (2 (spread + spread)), a ratio of whole numbers.
  LatticeError made{0, 0, 0, critical};
  std::map<double, double> values;
  for (const auto& one : arms)
    for (const auto& other : arms) {
      const long spread = one.spread + other.spread, apart = one.sum - other.sum;
      if (spread == 0) continue;  // no variance: the test is not given
      const double t =
          std::sqrt(df * static_cast<double>(apart * apart) / (2 * static_cast<double>(spread)));
      if (t < critical) continue;
      made.error += one.chance * other.chance;
      values[std::round(t * 1e9) / 1e9] += one.chance * other.chance;
    }
  if (!values.empty()) {
    made.nearest = values.begin()->first;
    made.nearest_chance = values.begin()->second;
  }
  return made;
}

std::string why_over(const LatticeError& found, int n, double p) {
  const std::string stands_on =
      " The drawing of lots promises its level and meets it; the verdict asks for the posterior "
      "besides.";
  if (found.error - found.nearest_chance > 0.05 || found.nearest > found.critical + 0.02) {
    const double skewness = (1 - 2 * p) / std::sqrt(n * p * (1 - p));
    if (std::fabs(skewness) < 0.5) return "";
    return "Reckoned exactly, over every outcome: " + Report::number(2, 100 * found.error) +
           " %. A t is exact for normal values; fractions of " + std::to_string(n) +
           " seeds have a skewness of " + Report::number(2, skewness) +
           " there, and the variance of an arm leans on its mean." + stands_on;
  }
  return "Reckoned exactly. |t| takes few values on so few seeds, and one of them, " +
         Report::number(4, found.nearest) + ", lies just past the critical " +
         Report::number(4, found.critical) + " with a chance of " +
         Report::number(2, 100 * found.nearest_chance) + " %: without it the error were " +
         Report::number(2, 100 * (found.error - found.nearest_chance)) +
         " %, so no t of that level meets the bar." + stands_on;
}

}  // namespace plumule::calibration
