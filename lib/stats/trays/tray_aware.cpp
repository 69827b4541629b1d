// The posterior of p: nodes of rho, a table over the angle, and one Chebyshev series of its cdf.
#include "stats/trays/tray_aware.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "stats/numeric/chebyshev.hpp"
#include "stats/trays/angle_table.hpp"

namespace plumule::stats {
TrayAwarePosterior::TrayAwarePosterior(std::span<const TrayCount> trays, const RhoPrior& prior) {
  const TrayLikelihood likelihood(trays);
  const std::array<const TrayLikelihood*, 1> arms{&likelihood};
  const LiveNodes live = find_live_nodes(prior, arms);
  const auto table = make_angle_table(likelihood, live, 0);

  status_ = trays.empty() ? TrayAwareStatus::no_trays : TrayAwareStatus::ok;
  all_zero_ = likelihood.all_zero();
  all_full_ = likelihood.all_full();
  map_ = table.map;
  density_ = table.series;
  cumulative_ = integrated_series(density_);
  const double mass = series_at(cumulative_, 1);
  for (auto& c : density_) c /= mass;
  for (auto& c : cumulative_) c /= mass;
  log_evidence_ = live.log_unit + std::log(mass / (std::numbers::pi / 2));

  points_ = chebyshev_points(table.points - 1);
  const auto& weights = clenshaw_curtis_weights(table.points - 1);
  mean_ = 0;
  rough_cdf_.resize(table.points);
  double above = 0;
  for (std::size_t i = 0; i < table.points; ++i) {
    const double part = weights[i] * table.marginal[i] / mass;
    mean_ += part * table.p[i];
    rough_cdf_[i] = 1 - above - 0.5 * part;
    above += part;
  }
  for (std::size_t r = 0; r < live.nodes.size(); ++r) {
    const std::span<const double> row(table.values.data() + r * table.points, table.points);
    const double integral = dot(weights, row);
    rho_nodes_.push_back(live.nodes[r].rho);
    rho_weights_.push_back(live.weights[r] * integral / mass);
    rho_mean_ += rho_nodes_.back() * rho_weights_.back();
  }
}

double TrayAwarePosterior::quantile(double q) const {
  if (!(q >= 0 && q <= 1)) throw std::domain_error("a quantile's share must lie in [0, 1]");
  if (q <= 0) return 0;
  if (q >= 1) return 1;
  // From the rough cdf, by Newton's steps within a bracket that only shrinks.
  const auto below =
      static_cast<std::size_t>(std::partition_point(rough_cdf_.begin() + 1, rough_cdf_.end() - 1,
                                                    [q](double value) { return value > q; }) -
                               rough_cdf_.begin());
  const double rise = rough_cdf_[below - 1] - rough_cdf_[below];
  const double share = rise > 0 ? std::clamp((q - rough_cdf_[below]) / rise, 0.0, 1.0) : 0.5;
  double low = -1, high = 1, t = points_[below] + share * (points_[below - 1] - points_[below]);
  for (int step = 0; step < 100 && high - low > 1e-13; ++step) {
    const double miss = series_at(cumulative_, t) - q;
    (miss > 0 ? high : low) = t;
    const double slope = series_at(density_, t);
    double next = t - miss / slope;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::fabs(next - t) < 1e-7) {  // the step after it would be about the square of this one
      t = next;
      break;
    }
    t = next;
  }
  const double s = std::sin(map_.angle(t));
  return s * s;
}

Interval TrayAwarePosterior::interval(double level, Side side) const {
  const double tail = tail_probability(level, side);
  Interval made{method::tray_aware, level, 0, 1, side};
  if (status_ == TrayAwareStatus::no_trays) return made;
  if (side != Side::upper && !all_zero_) made.lower = quantile(tail);
  if (side != Side::lower && !all_full_) made.upper = quantile(1 - tail);
  return made;
}

double TrayAwarePosterior::probability_at_least(double s) const {
  if (std::isnan(s)) throw std::domain_error("the percentage asked about is not a number");
  if (s <= 0) return 1;
  if (s > 1) return 0;
  const double t = map_.place(std::asin(std::sqrt(s)));
  return std::clamp(1 - series_at(cumulative_, t), 0.0, 1.0);
}

Interval tray_aware_interval(std::span<const TrayCount> trays, const RhoPrior& prior, double level,
                             Side side) {
  return TrayAwarePosterior(trays, prior).interval(level, side);
}

}  // namespace plumule::stats
