#include "stats/emerging/standing_share.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace plumule::stats {
namespace {

constexpr double quarter_turn = std::numbers::pi / 2;
constexpr std::size_t steps = StandingShare::cells - 1;

double of_angle(double share) {
  const double sine = std::sin(quarter_turn * share);
  return sine * sine;
}

// Logarithms at the middles of the cells, and of the first and last cell's width.
struct Scale {
  std::array<double, StandingShare::cells> chance{}, log_p{}, log_q{};
  double width = of_angle(1.0 / steps);
  Scale() {
    for (std::size_t j = 1; j < chance.size(); ++j) {
      chance[j] = of_angle((static_cast<double>(j) - 0.5) / steps);
      log_p[j] = std::log(chance[j]);
      log_q[j] = std::log1p(-chance[j]);
    }
  }
};
const Scale& scale() {
  static const Scale made;
  return made;
}

// Adds weight * Beta(a, b) to the cells. Its density is flat enough inside a cell but for the first
// and last, where a power of the width stands for it: exact to a few parts in a thousand.
void add_beta(double a, double b, double weight, std::array<double, StandingShare::cells>& out) {
  const Scale& at = scale();
  std::array<double, StandingShare::cells> mass{};
  const double log_beta = std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
  double total = 0;
  for (std::size_t j = 2; j < steps; ++j) {
    // d pi = 2 sqrt(pi (1 - pi)) d angle
    mass[j] = std::exp((a - 0.5) * at.log_p[j] + (b - 0.5) * at.log_q[j] - log_beta) * 2 *
              quarter_turn / steps;
    total += mass[j];
  }
  mass[1] = std::exp(a * std::log(at.width) - std::log(a) - log_beta);
  mass[steps] = std::exp(b * std::log(at.width) - std::log(b) - log_beta);
  total += mass[1] + mass[steps];
  for (std::size_t j = 1; j <= steps; ++j) out[j] += weight * mass[j] / total;
}

}  // namespace

std::vector<Alive> usual_alive() {
  constexpr int points = 40;
  std::vector<Alive> made{{0, 0.05}};
  for (int i = 0; i < points; ++i)  // Beta(2, 1): the square root of a uniform share
    made.push_back({std::sqrt((i + 0.5) / points), 0.95 / points});
  return made;
}

StandingShare::StandingShare(Ground ground, double rho, double published) {
  if (!(rho >= 0.005 && rho <= 0.5)) throw std::domain_error("standing share: rho out of range");
  if (!(published > 0 && published <= 1))
    throw std::domain_error("standing share: the published share is not in (0, 1]");
  const double together = (1 - rho) / rho;
  const auto factors = field_factor(ground);
  for (std::size_t i = 0; i < alive_points; ++i)
    for (const auto& [factor, weight] : factors) {
      const double mean = alive_at(i) * factor * published;
      if (mean < 1e-9)
        shares_[i][0] += weight;
      else if (mean > 1 - 1e-9)
        shares_[i][steps] += weight;
      else
        add_beta(mean * together, (1 - mean) * together, weight, shares_[i]);
    }
}

double StandingShare::alive_at(std::size_t point) {
  return of_angle(static_cast<double>(point) / (alive_points - 1));
}

double StandingShare::chance_at(std::size_t cell) { return scale().chance[cell]; }

AlivePlace alive_place(double fraction) {
  if (!(fraction >= 0 && fraction <= 1))
    throw std::domain_error("alive: a fraction is not from 0 to 1");
  const double place =
      std::asin(std::sqrt(fraction)) / quarter_turn * (StandingShare::alive_points - 1);
  const auto point = std::min(static_cast<std::size_t>(place), StandingShare::alive_points - 2);
  return {point, place - static_cast<double>(point)};
}

std::array<double, StandingShare::cells> StandingShare::shares(std::span<const Alive> alive) const {
  std::array<double, alive_points> points{};
  for (const auto& [fraction, weight] : alive) {
    const auto [point, share] = alive_place(fraction);
    points[point] += weight * (1 - share);
    points[point + 1] += weight * share;
  }
  std::array<double, cells> made{};
  for (std::size_t i = 0; i < alive_points; ++i)
    if (points[i] > 0)
      for (std::size_t j = 0; j < cells; ++j) made[j] += points[i] * shares_[i][j];
  return made;
}

}  // namespace plumule::stats
