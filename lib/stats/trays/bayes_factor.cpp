// Both evidences from the tables of the tray-aware posteriors; the prior of H1 is a kernel over
// them.
#include "stats/trays/bayes_factor.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/numeric/chebyshev.hpp"
#include "stats/trays/angle_table.hpp"
#include "stats/trays/live_nodes.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::stats {
namespace {

constexpr double right_angle = std::numbers::pi / 2;

std::vector<double> angles(const AngleTable& table) {
  std::vector<double> phi = chebyshev_points(table.points - 1);
  for (auto& value : phi) value = table.map.angle(value);
  return phi;
}

// Integral over the square of exp(-(phi1 - phi2)^2 / (2 s^2)): by the distance, whose strip of the
// square has width right_angle - |distance|.
double kernel_mass(double s) {
  const double across =
      right_angle * s * std::sqrt(right_angle) * std::erf(right_angle / (s * std::numbers::sqrt2));
  return 2 * (across + s * s * std::expm1(-right_angle * right_angle / (2 * s * s)));
}

}  // namespace

StandBayesFactor stand_bayes_factor(std::span<const TrayCount> first,
                                    std::span<const TrayCount> second, const RhoPrior& prior,
                                    double angle_sd) {
  if (!(angle_sd > 0)) throw std::domain_error("the spread of the angles must be above 0");
  const TrayLikelihood one(first), two(second);
  check_rho_prior(prior);
  StandBayesFactor made;
  if (first.empty() || second.empty()) return made;

  const std::array<const TrayLikelihood*, 2> arms{&one, &two};
  const LiveNodes live = find_live_nodes(prior, arms);
  const auto table1 = make_angle_table(one, live, 0), table2 = make_angle_table(two, live, 1);
  const auto phi1 = angles(table1), phi2 = angles(table2);
  const std::vector<double> weights1 = clenshaw_curtis_weights(table1.points - 1);
  const std::vector<double> weights2 = clenshaw_curtis_weights(table2.points - 1);
  // Summed over the nodes first: the kernel is then applied once.
  double differing = 0;
  std::vector<double> column(table1.points);
  for (std::size_t j = 0; j < table2.points; ++j) {
    std::fill(column.begin(), column.end(), 0.0);
    for (std::size_t r = 0; r < live.nodes.size(); ++r) {
      const double factor = live.weights[r] * table2.values[r * table2.points + j];
      const double* row = table1.values.data() + r * table1.points;
      for (std::size_t i = 0; i < table1.points; ++i) column[i] += factor * row[i];
    }
    for (std::size_t i = 0; i < table1.points; ++i) {
      const double z = (phi1[i] - phi2[j]) / angle_sd;
      differing += weights2[j] * weights1[i] * column[i] * std::exp(-0.5 * z * z);
    }
  }
  std::vector<TrayCount> all(first.begin(), first.end());
  all.insert(all.end(), second.begin(), second.end());
  made.given = true;
  made.log_value = live.log_unit + std::log(differing / kernel_mass(angle_sd)) -
                   TrayAwarePosterior(all, prior).log_evidence();
  made.value = std::exp(made.log_value);
  return made;
}

}  // namespace plumule::stats
