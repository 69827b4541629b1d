// Window, map and adaptive degree; see the header.
#include "stats/trays/angle_table.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "stats/numeric/chebyshev.hpp"

namespace plumule::stats {
namespace {

constexpr double right_angle = std::numbers::pi / 2;
constexpr double negligible_density = 1e-9;  // of the top: the share left out is about as small
constexpr double negligible_rest = 1.5e-5;   // of the series: the ends then err by some 1e-7
constexpr double rounding = 1e-12;
constexpr std::size_t first_degree = 47, highest_degree = 4096, window_degree = 11;

// Fills rows of `values` (one a node) at the points t, and `p` with the fractions there.
void tabulate(const TrayLikelihood& likelihood, const TrayLikelihood::Ready& ready,
              std::span<const std::size_t> which, const AngleMap& map, std::span<const double> t,
              std::vector<double>& values, std::vector<double>& p) {
  const std::size_t count = t.size();
  std::vector<double> q(count), slope(count);
  p.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const auto [phi, steep] = map.angle_and_slope(t[i]);
    const double s = std::sin(phi), c = std::cos(phi);
    p[i] = s * s;
    q[i] = c * c;
    slope[i] = steep;
  }
  values.resize(which.size() * count);
  for (std::size_t r = 0; r < which.size(); ++r) {
    const std::span<double> row(values.data() + r * count, count);
    likelihood.relative(ready, which[r], p, q, row);
    for (std::size_t i = 0; i < count; ++i) row[i] *= slope[i];
  }
}

std::vector<double> summed(std::span<const double> values, std::span<const std::size_t> which,
                           std::span<const double> weights, std::size_t count) {
  std::vector<double> sum(count, 0.0);
  for (std::size_t r = 0; r < which.size(); ++r)
    for (std::size_t i = 0; i < count; ++i) sum[i] += weights[which[r]] * values[r * count + i];
  return sum;
}

// Shrinks the map's range to where the marginal density matters, looking at a third of the nodes.
void find_window(const TrayLikelihood& likelihood, const TrayLikelihood::Ready& ready,
                 std::span<const double> weights, std::size_t degree, AngleMap& map) {
  std::vector<std::size_t> third;
  for (std::size_t r = 0; r < weights.size(); r += 3) third.push_back(r);
  if (third.back() + 1 != weights.size()) third.push_back(weights.size() - 1);
  std::vector<double> t(degree + 1), values, p;
  for (std::size_t i = 0; i <= degree; ++i)
    t[i] = -1 + 2 * static_cast<double>(i) / static_cast<double>(degree);
  for (int round = 0; round < 40; ++round) {
    tabulate(likelihood, ready, third, map, t, values, p);
    const auto density = summed(values, third, weights, t.size());
    const double floor = negligible_density * *std::max_element(density.begin(), density.end());
    std::size_t low = 0, high = degree;
    while (low < degree && density[low] < floor) ++low;
    while (high > 0 && density[high] < floor) --high;
    low = low > 0 ? low - 1 : 0;
    high = std::min(high + 1, degree);
    const double left = map.u_lower, step = (map.u_upper - left) / static_cast<double>(degree);
    map.u_lower = left + step * static_cast<double>(low);
    map.u_upper = left + step * static_cast<double>(high);
    if (2 * (high - low) >= degree) break;
  }
}

// What the series still leaves out, against its first term: the terms fall as the last ones do
// against those eight before, and go on so.
bool settled(std::span<const double> series) {
  const auto size_before = [&](std::size_t end) {
    double most = 0;
    for (std::size_t k = end - 4; k < end; ++k) most = std::max(most, std::fabs(series[k]));
    return most / std::fabs(series[0]);
  };
  const double last = size_before(series.size()), before = size_before(series.size() - 8);
  if (last <= rounding) return true;
  return last < before && last <= negligible_rest * (1 - std::pow(last / before, 1.0 / 8));
}

}  // namespace

AngleMap::Point AngleMap::angle_and_slope(double t) const {
  const double half = 0.5 * (u_upper - u_lower), u = u_lower + (t + 1) * half;
  const double up = std::exp(u), down = 1 / up;
  return {std::clamp(centre + 0.5 * scale * (up - down), 0.0, right_angle),
          0.5 * scale * half * (up + down)};
}

double AngleMap::place(double phi) const {
  const double u = std::asinh((phi - centre) / scale);
  return std::clamp(2 * (u - u_lower) / (u_upper - u_lower) - 1, -1.0, 1.0);
}

AngleTable make_angle_table(const TrayLikelihood& likelihood, const LiveNodes& live,
                            std::size_t arm) {
  AngleTable table;
  auto& map = table.map;
  const auto& ready = live.arms[arm];
  const auto angle_at = [&](std::size_t r) { return std::asin(std::sqrt(ready.at[r].p0)); };
  const auto heaviest = static_cast<std::size_t>(
      std::max_element(live.weights.begin(), live.weights.end()) - live.weights.begin());
  map.centre = angle_at(heaviest);
  // About the sd of the narrowest node; three of them make the shortest series of the marginal.
  const double narrowest =
      0.5 / std::sqrt(std::max(likelihood.effective_seeds(live.nodes[0].rho), 0.25));
  map.scale = 3.2 * narrowest;
  map.u_lower = std::asinh(-map.centre / map.scale);
  map.u_upper = std::asinh((right_angle - map.centre) / map.scale);
  // Sowings of unequal size draw the nodes apart, to where the map is coarser: then look closer
  // from the start.
  const double apart = std::max(std::fabs(angle_at(0) - map.centre),
                                std::fabs(angle_at(live.nodes.size() - 1) - map.centre));
  std::size_t closer = 1;
  while (closer < 8 && std::hypot(1, apart / map.scale) > 1.5 * static_cast<double>(closer))
    closer *= 2;
  find_window(likelihood, ready, live.weights, closer * window_degree, map);

  std::vector<std::size_t> all(live.nodes.size());
  for (std::size_t r = 0; r < all.size(); ++r) all[r] = r;
  std::size_t degree = closer * first_degree;
  tabulate(likelihood, ready, all, map, chebyshev_points(degree), table.values, table.p);
  table.marginal = summed(table.values, all, live.weights, degree + 1);
  table.series = chebyshev_series(table.marginal);
  while (!settled(table.series) && degree < highest_degree) {
    // Twice the degree keeps every old point: only those between are new.
    const auto points = chebyshev_points(2 * degree);
    std::vector<double> between, fresh, fresh_p, woven_p(2 * degree + 1);
    for (std::size_t i = 1; i < 2 * degree; i += 2) between.push_back(points[i]);
    tabulate(likelihood, ready, all, map, between, fresh, fresh_p);
    std::vector<double> woven((2 * degree + 1) * all.size());
    for (std::size_t r = 0; r < all.size(); ++r)
      for (std::size_t i = 0; i <= 2 * degree; ++i)
        woven[r * (2 * degree + 1) + i] =
            i % 2 == 0 ? table.values[r * (degree + 1) + i / 2] : fresh[r * degree + i / 2];
    for (std::size_t i = 0; i <= 2 * degree; ++i)
      woven_p[i] = i % 2 == 0 ? table.p[i / 2] : fresh_p[i / 2];
    table.values = std::move(woven);
    table.p = std::move(woven_p);
    degree *= 2;
    table.marginal = summed(table.values, all, live.weights, degree + 1);
    table.series = chebyshev_series(table.marginal);
  }
  table.points = degree + 1;
  return table;
}

}  // namespace plumule::stats
