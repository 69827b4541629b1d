// Node by node of rho the two angles are independent; summed over the nodes they make one joint
// density, and a probability is a walk along the angle of either.
#include "stats/trays/tray_aware_difference.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "stats/numeric/chebyshev.hpp"
#include "stats/numeric/distributions.hpp"
#include "stats/numeric/small_product.hpp"
#include "stats/trays/curve_integral.hpp"

namespace plumule::stats {
namespace {

constexpr double little_doubt = 2e-9;  // of a chance

using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Column = Eigen::VectorXd;

// The table's values, a row for each node of rho, and what each point of it stands for.
struct Tabulated {
  Eigen::Map<const Rows> values;
  Column p, weight;

  Tabulated(const AngleTable& table, std::size_t nodes)
      : values(table.values.data(), static_cast<Eigen::Index>(nodes),
               static_cast<Eigen::Index>(table.points)),
        p(values.cols()) {
    const auto points = chebyshev_points(table.points - 1);
    for (Eigen::Index i = 0; i < p.size(); ++i) {
      const double s = std::sin(table.map.angle(points[static_cast<std::size_t>(i)]));
      p[i] = s * s;
    }
    weight = Column::Map(clenshaw_curtis_weights(table.points - 1).data(), p.size());
  }
};

// x where a falling chance equals `target`, between lowest and highest: secant steps on the normal
// scale, where such a curve is nearly straight, inside a bracket that only shrinks.
template <class Chance>
double falling_root(Chance&& chance, double target, double guess, double step, double lowest,
                    double highest) {
  const double aim = normal_quantile(target);
  const auto miss = [&](double x) {
    return normal_quantile(std::clamp(chance(x), 1e-15, 1 - 1e-15)) - aim;
  };
  double low = lowest, high = highest;  // the chance is above the target at low, below at high
  double x = std::clamp(guess, lowest, highest), value = miss(x);
  double before = x, before_value = value;
  bool first = true;
  for (int i = 0; i < 200; ++i) {
    (value > 0 ? low : high) = x;
    double next;
    if (first) {
      next = value > 0 ? x + step : x - step;
    } else {
      next = x - value * (x - before) / (value - before_value);
    }
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (!first && std::fabs(next - x) < 1e-9) return next;
    if (high - low < 1e-12) return next;
    first = false;
    before = x;
    before_value = value;
    x = next;
    value = miss(x);
  }
  return x;
}

void check_number(double x) {
  if (std::isnan(x)) throw std::domain_error("the contrast asked about is not a number");
}

}  // namespace

TrayAwareDifference::TrayAwareDifference(std::span<const TrayCount> first,
                                         std::span<const TrayCount> second, const RhoPrior& prior) {
  const TrayLikelihood one(first), two(second);
  const std::array<const TrayLikelihood*, 2> arms{&one, &two};
  const LiveNodes live = find_live_nodes(prior, arms);
  const auto table1 = make_angle_table(one, live, 0), table2 = make_angle_table(two, live, 1);
  first_ = table1.map;
  second_ = table2.map;
  status_ = first.empty() || second.empty() ? TrayAwareStatus::no_trays : TrayAwareStatus::ok;
  first_zero_ = one.all_zero();
  first_full_ = one.all_full();
  second_zero_ = two.all_zero();
  second_full_ = two.all_full();

  const std::size_t nodes = live.nodes.size();
  const Tabulated tab1(table1, nodes), tab2(table2, nodes);
  const auto node_weight = Column::Map(live.weights.data(), static_cast<Eigen::Index>(nodes));
  first_points_ = table1.points;
  joint_.resize(table1.points * table2.points);
  Eigen::Map<Rows> joint(joint_.data(), tab2.p.size(), tab1.p.size());
  const Rows weighted = node_weight.asDiagonal() * tab1.values;
  small_product({tab2.values.data(), 1, table2.points}, table2.points, nodes, weighted.data(),
                table1.points, joint_.data());
  const Column by_node =
      node_weight.cwiseProduct(tab1.values * tab1.weight).cwiseProduct(tab2.values * tab2.weight);
  const double mass = by_node.sum();
  for (std::size_t r = 0; r < nodes; ++r)
    rho_mean_ += by_node[static_cast<Eigen::Index>(r)] / mass * live.nodes[r].rho;
  joint /= mass;
  const Column share1 = (joint.transpose() * tab2.weight).cwiseProduct(tab1.weight);
  const Column share2 = (joint * tab1.weight).cwiseProduct(tab2.weight);
  mean_first_ = share1.dot(tab1.p);
  mean_second_ = share2.dot(tab2.p);
  sd_ = std::sqrt(std::max(share1.dot(tab1.p.cwiseAbs2()) - mean_first_ * mean_first_ +
                               share2.dot(tab2.p.cwiseAbs2()) - mean_second_ * mean_second_,
                           1e-12));
  const Rows turned = joint.transpose();
  along_second_.emplace(second_, table2.points, first_, table1.points,
                        std::span(turned.data(), joint_.size()));
}

double TrayAwareDifference::above(Contrast contrast, double value) const {
  const double back = contrast == Contrast::difference ? -value : 1 / value;
  const double by_second = along_second_->doubt(contrast, value);
  if (by_second <= little_doubt)
    return std::clamp(1 - along_second_->other_below(contrast, value), 0.0, 1.0);
  if (!along_first_)
    along_first_.emplace(first_, first_points_, second_, joint_.size() / first_points_, joint_);
  if (along_first_->doubt(contrast, back) <= little_doubt)
    return std::clamp(along_first_->other_below(contrast, back), 0.0, 1.0);
  return above_by_curve(contrast, value, first_, second_, first_points_, joint_);
}

double TrayAwareDifference::probability_better_by(double d) const {
  check_number(d);
  if (d >= 1) return 0;
  if (d <= -1) return 1;
  return above(Contrast::difference, d);
}

double TrayAwareDifference::probability_within(double d) const {
  if (!(d >= 0)) throw std::domain_error("a smallest difference must be 0 or more");
  return std::max(0.0, probability_better_by(-d) - probability_better_by(d));
}

double TrayAwareDifference::probability_ratio_above(double c) const {
  check_number(c);
  if (c <= 0) return 1;
  return std::isinf(c) ? 0 : above(Contrast::ratio, c);
}

double TrayAwareDifference::probability_odds_ratio_above(double w) const {
  check_number(w);
  if (w <= 0) return 1;
  return std::isinf(w) ? 0 : above(Contrast::odds_ratio, w);
}

// Equal-tailed. Differences are looked for as they are, ratios by their logarithm.
Interval TrayAwareDifference::interval(Contrast contrast, double level, double lowest,
                                       double highest) const {
  const double tail = tail_probability(level, Side::both);
  const bool plain = contrast == Contrast::difference;
  const auto chance = [&](double x) { return above(contrast, plain ? x : std::exp(x)); };
  const double p1 = std::clamp(mean_first_, 1e-6, 1 - 1e-6);
  const double p2 = std::clamp(mean_second_, 1e-6, 1 - 1e-6);
  const double middle = plain                         ? p1 - p2
                        : contrast == Contrast::ratio ? std::log(p1 / p2)
                                                      : std::log(p1 * (1 - p2) / (p2 * (1 - p1)));
  const double scale = plain ? sd_
                             : sd_ / std::min({p1, p2, contrast == Contrast::ratio ? 1 : 1 - p1,
                                               contrast == Contrast::ratio ? 1 : 1 - p2});
  const double z = normal_quantile(1 - tail), bound = plain ? 1 - 1e-12 : 200;
  Interval made{method::tray_aware, level, lowest, highest};
  const auto root = [&](double share, double guess) {
    const double x = falling_root(chance, share, guess, 0.2 * scale, -bound, bound);
    return plain ? x : std::exp(x);
  };
  if (std::isnan(lowest)) made.lower = root(1 - tail, middle - z * scale);
  if (std::isnan(highest)) made.upper = root(tail, middle + z * scale);
  return made;
}

Interval TrayAwareDifference::difference(double level) const {
  constexpr double sought = std::numeric_limits<double>::quiet_NaN();
  return interval(Contrast::difference, level, first_zero_ && second_full_ ? -1 : sought,
                  first_full_ && second_zero_ ? 1 : sought);
}

Interval TrayAwareDifference::ratio(double level) const {
  constexpr double sought = std::numeric_limits<double>::quiet_NaN();
  return interval(Contrast::ratio, level, first_zero_ ? 0 : sought,
                  second_zero_ ? std::numeric_limits<double>::infinity() : sought);
}

Interval TrayAwareDifference::odds_ratio(double level) const {
  constexpr double sought = std::numeric_limits<double>::quiet_NaN();
  return interval(Contrast::odds_ratio, level, first_zero_ || second_full_ ? 0 : sought,
                  first_full_ || second_zero_ ? std::numeric_limits<double>::infinity() : sought);
}

}  // namespace plumule::stats
