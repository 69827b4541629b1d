// rho is integrated by the trapezoid in y = log u, u = -log(1 - rho), where Beta(1, B) is smooth
// and falls off at both ends; p in the angle arcsin sqrt p, where Jeffreys' prior is flat and the
// likelihood even about both ends, so that the trapezoid is as good as exact.
#include "stats/trays/learned_rho.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {
namespace {

constexpr double least_b = 2, most_b = 2000;
constexpr double step_y = 0.2;
constexpr double most_u = 12;        // Beta(1, 2) has 4e-11 beyond
constexpr double alike = 1e-4;       // times seeds: below it rho changes nothing
constexpr double reach = 10;         // standard deviations of the angle on either side
constexpr double points_a_sd = 2.5;  // of the trapezoid

// log of the integral of L over Jeffreys' prior of p.
double log_over_p(const TrayLikelihood& likelihood, double rho) {
  const double right_angle = std::numbers::pi / 2;
  const double p0 = std::clamp(likelihood.likely_fraction(rho), 1e-9, 1 - 1e-9);
  const double middle = std::asin(std::sqrt(p0));
  const double sd = 0.5 / std::sqrt(std::max(likelihood.effective_seeds(rho), 0.25));
  const double from = std::max(0.0, middle - reach * sd);
  const double to = std::min(right_angle, middle + reach * sd);
  const auto steps = static_cast<std::size_t>(std::ceil((to - from) / sd * points_a_sd));
  const double step = (to - from) / static_cast<double>(steps);
  std::vector<double> p(steps + 1), q(steps + 1), value(steps + 1);
  for (std::size_t i = 0; i <= steps; ++i) {
    const double angle = from + step * static_cast<double>(i);
    p[i] = std::sin(angle) * std::sin(angle);
    q[i] = std::cos(angle) * std::cos(angle);
  }
  TrayLikelihood::Ready ready;
  likelihood.prepare(rho / (1 - rho), p0, ready);
  likelihood.relative(ready, 0, p, q, value);
  double sum = (value.front() + value.back()) / 2;
  for (std::size_t i = 1; i < steps; ++i) sum += value[i];
  return std::log(sum * step / right_angle) + ready.at[0].log_reference;
}

}  // namespace

double LearnedRho::b_at(std::size_t place) {
  return least_b *
         std::pow(most_b / least_b, static_cast<double>(place) / static_cast<double>(grid - 1));
}

void LearnedRho::add(std::span<const TrayCount> group) {
  check_trays(group);
  if (group.size() < 2) return;
  const TrayLikelihood likelihood(group);
  ++groups_;
  const double least_y = std::log(alike / static_cast<double>(likelihood.largest()));
  const auto steps = static_cast<std::size_t>(std::ceil((std::log(most_u) - least_y) / step_y));
  std::vector<double> u(steps + 1), height(steps + 1);
  double top = -HUGE_VAL;
  for (std::size_t i = 0; i <= steps; ++i) {
    u[i] = std::exp(least_y + step_y * static_cast<double>(i));
    height[i] = log_over_p(likelihood, -std::expm1(-u[i]));
    top = std::max(top, height[i]);
  }
  for (std::size_t place = 0; place < grid; ++place) {
    const double b = b_at(place);
    // What lies below the first node, where the likelihood is that of rho 0; then the trapezoid.
    double sum = -std::expm1(-b * u.front()) * std::exp(height.front() - top);
    for (std::size_t i = 0; i <= steps; ++i) {
      const double weight = i == 0 || i == steps ? step_y / 2 : step_y;
      sum += weight * b * u[i] * std::exp(-b * u[i] + height[i] - top);
    }
    sums_[place] += std::log(sum) + top;
  }
}

std::optional<double> LearnedRho::b(double guess) const {
  if (!(guess >= least_b && guess <= most_b))
    throw std::domain_error("a guess of B lies between 2 and 2000");
  if (groups_ < fewest_groups) return std::nullopt;
  std::array<double, grid> height = sums_;
  for (std::size_t place = 0; place < grid; ++place) {
    const double off = std::log(b_at(place) / guess);
    height[place] -= off * off / 2;
  }
  const auto best =
      static_cast<std::size_t>(std::max_element(height.begin(), height.end()) - height.begin());
  if (best == 0 || best + 1 == grid) return b_at(best);
  const double before = height[best - 1], here = height[best], after = height[best + 1];
  const double bend = before - 2 * here + after;
  const double off = bend < 0 ? (before - after) / (2 * bend) : 0;  // in steps of the grid
  const double ratio = b_at(best + 1) / b_at(best);
  return b_at(best) * std::pow(ratio, off);
}

}  // namespace plumule::stats
