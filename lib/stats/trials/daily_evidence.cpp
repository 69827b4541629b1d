// One pass over the looks, all values of the odds ratio at once.
#include "stats/trials/daily_evidence.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace plumule::stats {
namespace {

constexpr std::size_t grid_points = 31;  // z = -3 (0.2) 3
constexpr double log_w_unit = 0.7;

double grid_z(std::size_t i) { return -3 + 0.2 * static_cast<double>(i); }

using Grid = Eigen::Array<double, static_cast<Eigen::Index>(grid_points), 1>;

Grid made_of_z(double (*function)(double)) {
  Grid made;
  for (std::size_t i = 0; i < grid_points; ++i)
    made[static_cast<Eigen::Index>(i)] = function(grid_z(i));
  return made;
}

const Grid log_w_grid = made_of_z([](double z) { return log_w_unit * z; });
const Grid w_grid = made_of_z([](double z) { return std::exp(log_w_unit * z); });
const Grid z_weights = made_of_z([](double z) { return std::exp(-0.5 * z * z); });

// log of the average over the grid of product^(1 / phi).
double averaged(const Grid& log_products, double phi) {
  const Grid logs = log_products / phi;
  const double top = logs.maxCoeff();
  return top + std::log(((logs - top).exp() * z_weights).sum() / z_weights.sum());
}

// Hypergeometric chances of y of d from the first of m1 + m2, y from `lowest` on, summing to 1.
struct Split {
  long long lowest = 0;
  std::vector<double> chance;
};

Split split_chances(long long d, long long m1, long long m2) {
  Split made;
  made.lowest = std::max(0LL, d - m2);
  const long long highest = std::min(d, m1);
  // From the mode both ways by the ratio of neighbours.
  const double all = static_cast<double>(m1 + m2) + 2;
  const auto mode = std::clamp(
      static_cast<long long>(static_cast<double>(d + 1) * static_cast<double>(m1 + 1) / all),
      made.lowest, highest);
  made.chance.assign(static_cast<std::size_t>(highest - made.lowest + 1), 0.0);
  const auto ratio = [&](long long y) {  // chance(y + 1) / chance(y)
    return static_cast<double>(m1 - y) * static_cast<double>(d - y) /
           (static_cast<double>(y + 1) * static_cast<double>(m2 - d + y + 1));
  };
  const auto at = [&](long long y) -> double& {
    return made.chance[static_cast<std::size_t>(y - made.lowest)];
  };
  at(mode) = 1;
  for (long long y = mode; y < highest; ++y) at(y + 1) = at(y) * ratio(y);
  for (long long y = mode; y > made.lowest; --y) at(y - 1) = at(y) / ratio(y - 1);
  double sum = 0;
  for (const double c : made.chance) sum += c;
  for (double& c : made.chance) c /= sum;
  return made;
}

// -log of the mean of w^(y - x), the largest exponent taken out.
double log_ratio(const Split& split, long long x, double log_w) {
  const auto exponent = [&](std::size_t i) {
    return log_w * static_cast<double>(split.lowest + static_cast<long long>(i) - x);
  };
  double top = -INFINITY;
  for (std::size_t i = 0; i < split.chance.size(); ++i)
    if (split.chance[i] > 0) top = std::max(top, exponent(i) + std::log(split.chance[i]));
  double sum = 0;
  for (std::size_t i = 0; i < split.chance.size(); ++i)
    if (split.chance[i] > 0) sum += split.chance[i] * std::exp(exponent(i) - top);
  return -(top + std::log(sum));
}

// The same of every w of the grid: as polynomials in w where no power can overflow.
Grid log_ratios(const Split& split, long long x) {
  Grid made;
  if (log_w_grid.maxCoeff() * static_cast<double>(split.chance.size()) > 600) {
    for (Eigen::Index i = 0; i < made.size(); ++i) made[i] = log_ratio(split, x, log_w_grid[i]);
    return made;
  }
  made.setZero();
  for (std::size_t i = split.chance.size(); i-- > 0;) made = made * w_grid + split.chance[i];
  return log_w_grid * static_cast<double>(x - split.lowest) - made.log();
}

}  // namespace

double log_split_ratio(long long x, long long d, long long m1, long long m2, double log_w) {
  if (m1 < 0 || m2 < 0 || d < 0 || d > m1 + m2 || x < std::max(0LL, d - m2) || x > std::min(d, m1))
    throw std::domain_error("no such split: more came up than were still to come");
  return log_ratio(split_chances(d, m1, m2), x, log_w);
}

DailyEvidence daily_evidence(std::span<const FollowedSowing> sowings, int until, double rho0) {
  check_followed(sowings);
  if (!(rho0 >= 0 && rho0 <= 1)) throw std::domain_error("an assumed rho must lie in [0, 1]");
  DailyEvidence made;
  const bool both =
      std::any_of(sowings.begin(), sowings.end(), [](auto& s) { return s.treated; }) &&
      std::any_of(sowings.begin(), sowings.end(), [](auto& s) { return !s.treated; });
  if (!both) return made;
  double seeds = 0;
  for (const auto& s : sowings) seeds += static_cast<double>(s.sown);
  made.phi = 1 + (seeds / static_cast<double>(sowings.size()) - 1) * rho0;

  Grid log_products = Grid::Zero();
  int before = -1;
  for (const int day : trial_looks(sowings, until)) {
    std::array<long long, 2> to_come{}, came{};
    for (const auto& s : sowings) {
      const std::size_t arm = s.treated ? 0 : 1;
      const auto up = up_by(s, before);
      came[arm] += up_by(s, day) - up;
      if (s.sown_on < day && !(s.ended_on && *s.ended_on <= before)) to_come[arm] += s.sown - up;
    }
    const long long d = came[0] + came[1];
    if (d > 0 && to_come[0] > 0 && to_come[1] > 0)
      log_products += log_ratios(split_chances(d, to_come[0], to_come[1]), came[0]);
    made.looks.push_back({day, averaged(log_products, 1), averaged(log_products, made.phi)});
    before = day;
  }
  if (made.looks.empty()) return made;
  made.given = true;
  made.raw = std::exp(made.looks.back().log_raw);
  made.deflated = std::exp(made.looks.back().log_deflated);
  for (const auto& look : made.looks) {
    made.highest_raw = std::max(made.highest_raw, std::exp(look.log_raw));
    made.highest_deflated = std::max(made.highest_deflated, std::exp(look.log_deflated));
  }
  return made;
}

}  // namespace plumule::stats
