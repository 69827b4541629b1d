// See the header for what is summed.
#include "stats/trays/angle_walk.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "stats/numeric/chebyshev.hpp"
#include "stats/numeric/small_product.hpp"

namespace plumule::stats {
namespace {

constexpr std::size_t lanes = 8;  // points whose series are summed side by side
using Lanes = Eigen::Array<double, static_cast<int>(lanes), 1>;

// From values at the n + 1 Chebyshev points to the series, of n + 2 terms, of their integral from
// -1: chebyshev_series and integrated_series in one matrix, for many rows of values at once. The
// last one made is kept: both treatments mostly have as many points.
const Eigen::MatrixXd& integrated_series_of_values(std::size_t n) {
  thread_local std::size_t made_for = 0;
  thread_local Eigen::MatrixXd made;
  if (made_for == n) return made;
  const auto points = chebyshev_points(2 * n);  // cos(pi i / (2 n)): every second one is wanted
  const auto size = static_cast<Eigen::Index>(n + 1);
  Eigen::MatrixXd series(size, size + 2);
  made.resize(size, size + 1);
  series.rightCols(2).setZero();
  for (std::size_t j = 0; j <= n; ++j)
    for (std::size_t k = 0; k <= n; ++k) {
      const std::size_t turn = (j * k) % (2 * n);  // of 2 n a whole one
      const double halves = (j == 0 || j == n ? 0.5 : 1) * (k == 0 || k == n ? 0.5 : 1);
      series(static_cast<Eigen::Index>(j), static_cast<Eigen::Index>(k)) =
          2 * halves / static_cast<double>(n) * points[2 * (turn <= n ? turn : 2 * n - turn)];
    }
  made.col(0).setZero();
  for (Eigen::Index k = 1; k <= size; ++k) {
    made.col(k) =
        ((k == 1 ? 2 : 1) * series.col(k - 1) - series.col(k + 1)) / (2 * static_cast<double>(k));
    made.col(0) += (k % 2 == 0 ? -1 : 1) * made.col(k);
  }
  made_for = n;
  return made;
}

struct Partner {
  double p = 0, q = 0;  // its percentage and one less it; outside [0, 1] where there is none
};

Partner partner(Contrast contrast, double value, double p, double q) {
  if (contrast == Contrast::difference) return {p + value, q - value};
  if (contrast == Contrast::ratio) return {value * p, q - (value - 1) * p};
  const double both = q + value * p;
  return {value * p / both, q / both};
}

// The angle by both of its sides, which keeps its digits near 0 and near 1.
double angle_of(const Partner& one) {
  return std::atan2(std::sqrt(std::max(one.p, 0.0)), std::sqrt(std::max(one.q, 0.0)));
}

// p at which the partner has p = edge; outside (0, 1) where it never has inside the walk.
double p_where_partner(Contrast contrast, double value, double edge) {
  if (contrast == Contrast::difference) return edge - value;
  return contrast == Contrast::ratio ? edge / value : edge;
}

}  // namespace

AngleWalk::AngleWalk(const AngleMap& walked, std::size_t walked_points, const AngleMap& other,
                     std::size_t other_points, std::span<const double> joint)
    : walked_(walked), other_(other), points_(walked_points), terms_(other_points + 1) {
  const auto t = chebyshev_points(points_ - 1);
  for (const double at : t) {
    const double phi = walked_.angle(at), s = std::sin(phi), c = std::cos(phi);
    p_.push_back(s * s);
    q_.push_back(c * c);
  }
  const auto& weights = clenshaw_curtis_weights(points_ - 1);
  const std::size_t padded = (points_ + lanes - 1) / lanes * lanes;
  std::vector<double> density(other_points * padded);
  for (std::size_t k = 0; k < other_points; ++k)
    for (std::size_t i = 0; i < points_; ++i)
      density[k * padded + i] = weights[i] * joint[k * points_ + i];
  const auto& series = integrated_series_of_values(other_points - 1);  // column after column
  below_.resize(terms_ * padded);
  small_product({series.data(), other_points, 1}, terms_, other_points, density.data(), padded,
                below_.data());
  p_.resize(padded, 0.5);
  q_.resize(padded, 0.5);
}

double AngleWalk::other_below(Contrast contrast, double value) const {
  const std::size_t padded = p_.size();
  const auto term = [&](std::size_t k, std::size_t from) {
    return Eigen::Map<const Lanes>(below_.data() + k * padded + from);
  };
  Lanes sum = Lanes::Zero();
  for (std::size_t from = 0; from < padded; from += lanes) {
    Lanes t;
    for (std::size_t l = 0; l < lanes; ++l) {
      const std::size_t i = from + l;
      t[static_cast<Eigen::Index>(l)] =
          other_.place(angle_of(partner(contrast, value, p_[i], q_[i])));
    }
    // Clenshaw's recurrence, point beside point.
    const Lanes twice = 2 * t;
    Lanes a = Lanes::Zero(), b = Lanes::Zero();
    for (std::size_t k = terms_ - 1; k > 0; --k) {
      const Lanes next = twice * a - b + term(k, from);
      b = a;
      a = next;
    }
    sum += t * a - b + term(0, from);
  }
  return sum.sum();
}

double AngleWalk::below(std::size_t point, double t) const {
  double a = 0, b = 0;
  for (std::size_t k = terms_ - 1; k > 0; --k) {
    const double next = 2 * t * a - b + below_[k * p_.size() + point];
    b = a;
    a = next;
  }
  return t * a - b + below_[point];
}

double AngleWalk::doubt(Contrast contrast, double value) const {
  const double n = static_cast<double>(points_ - 1);
  double worst = 0;
  for (const double edge : {0.0, 1.0}) {
    const double p = p_where_partner(contrast, value, edge);
    if (!(p > 0 && p < 1)) continue;
    const double t = walked_.place(angle_of({p, 1 - p}));
    if (std::fabs(t) >= 1) continue;
    // The point beside it has the other's share from the edge to the partner one gap away: what the
    // rule makes of such a turn is off by a fifth of that. Points are even in the arc cosine of t.
    const double gap = std::numbers::pi / n * std::sqrt(1 - t * t);
    const double there =
        std::sin(walked_.angle(std::clamp(edge == 0 ? t + gap : t - gap, -1.0, 1.0)));
    const double near =
        other_.place(angle_of(partner(contrast, value, there * there, 1 - there * there)));
    const auto before =
        std::min(static_cast<std::size_t>(std::acos(t) / std::numbers::pi * n), points_ - 2);
    for (const std::size_t i : {before, before + 1})
      worst = std::max(worst, 0.2 * std::fabs(below(i, near) - below(i, edge == 0 ? -1 : 1)));
  }
  // Equal gaps over a bell leave 2 exp(-2 (pi sd / gap)^2): here of what the two peaks have in
  // common, their maps being some 3.2 sd in scale.
  const double gap = walked_.angle_and_slope(0).slope * std::numbers::pi / n;
  const double own = walked_.scale / 3.2, others = other_.scale / 3.2;
  const double steps = std::numbers::pi / gap * own * others / std::hypot(own, others);
  return std::max(worst, 2 * std::exp(-2 * steps * steps));
}

}  // namespace plumule::stats
