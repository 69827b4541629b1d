// Node by node of rho the two angles are independent; summed over the nodes they make one joint
// series, and a probability is its integral along the curve of equal contrast.
#include "stats/tray_aware_difference.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "stats/adaptive_integral.hpp"
#include "stats/chebyshev.hpp"
#include "stats/distributions.hpp"

namespace plumule::stats {
namespace {

struct Moments {
  double mass = 0, mean = 0, square = 0;  // integrals of 1, p and p^2
};

std::vector<double> squared_sines(const AngleTable& table) {
  std::vector<double> p = chebyshev_points(table.points - 1);
  for (auto& value : p) {
    const double s = std::sin(table.map.angle(value));
    value = s * s;
  }
  return p;
}

Moments moments(std::span<const double> row, std::span<const double> p,
                std::span<const double> weights) {
  Moments made;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const double part = weights[i] * row[i];
    made.mass += part;
    made.mean += part * p[i];
    made.square += part * p[i] * p[i];
  }
  return made;
}

// T_0 .. T_(n-1) at t.
void fill_terms(double t, std::vector<double>& terms) {
  terms[0] = 1;
  terms[1] = t;
  for (std::size_t k = 2; k < terms.size(); ++k) terms[k] = 2 * t * terms[k - 1] - terms[k - 2];
}

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

  const auto p1 = squared_sines(table1), p2 = squared_sines(table2);
  const std::vector<double> weights1 = clenshaw_curtis_weights(table1.points - 1);
  const std::vector<double> weights2 = clenshaw_curtis_weights(table2.points - 1);
  columns_ = table1.points + 1;
  joint_.assign(table2.points * columns_, 0.0);
  second_cumulative_.assign(table2.points + 1, 0.0);
  double mass = 0, square1 = 0, square2 = 0;
  mean_first_ = mean_second_ = 0;
  for (std::size_t r = 0; r < live.nodes.size(); ++r) {
    const std::span<const double> row1(table1.values.data() + r * table1.points, table1.points);
    const std::span<const double> row2(table2.values.data() + r * table2.points, table2.points);
    const auto m1 = moments(row1, p1, weights1), m2 = moments(row2, p2, weights2);
    const double weight = live.weights[r], both = weight * m1.mass * m2.mass;
    mass += both;
    rho_mean_ += both * live.nodes[r].rho;
    mean_first_ += weight * m1.mean * m2.mass;
    mean_second_ += weight * m1.mass * m2.mean;
    square1 += weight * m1.square * m2.mass;
    square2 += weight * m1.mass * m2.square;
    auto above = integrated_series(chebyshev_series(row1));
    for (auto& term : above) term = -term;
    above[0] += m1.mass;
    const auto density = chebyshev_series(row2);
    for (std::size_t j = 0; j < density.size(); ++j) {
      const double factor = weight * density[j];
      double* row = joint_.data() + j * columns_;
      for (std::size_t k = 0; k < columns_; ++k) row[k] += factor * above[k];
    }
    const auto cumulative = integrated_series(density);
    for (std::size_t j = 0; j < cumulative.size(); ++j)
      second_cumulative_[j] += weight * m1.mass * cumulative[j];
  }
  for (auto& term : joint_) term /= mass;
  // High terms of both are negligible together: each row ends where nothing of note follows.
  for (std::size_t j = 0; j < table2.points; ++j) {
    std::size_t length = columns_;
    while (length > 1 && std::fabs(joint_[j * columns_ + length - 1]) < 1e-9) --length;
    lengths_.push_back(length);
  }
  for (auto& term : second_cumulative_) term /= mass;
  for (double* value : {&mean_first_, &mean_second_, &rho_mean_, &square1, &square2})
    *value /= mass;
  sd_ = std::sqrt(
      std::max(square1 - mean_first_ * mean_first_ + square2 - mean_second_ * mean_second_, 1e-12));
}

double TrayAwareDifference::joint_at(double t1, double t2) const {
  thread_local std::vector<double> terms1, terms2;
  terms1.resize(columns_);
  terms2.resize(joint_.size() / columns_);
  fill_terms(t1, terms1);
  fill_terms(t2, terms2);
  double sum = 0;
  for (std::size_t j = 0; j < terms2.size(); ++j)
    sum += terms2[j] * dot({joint_.data() + j * columns_, lengths_[j]}, terms1);
  return sum;
}

double TrayAwareDifference::above(Contrast contrast, double value) const {
  const ContrastCurve curve(contrast, value);
  const auto density = [&](double s) {
    const auto point = curve.at(s);
    const double t2 = second_.place(point.phi2);
    return joint_at(first_.place(point.phi1), t2) * point.slope2 /
           second_.angle_and_slope(t2).slope;
  };
  // From where the second's density begins to where it, or the first's share above, ends; split
  // where either is narrowest.
  const double from = curve.at_phi2(second_.angle(-1));
  const double to = std::min(curve.at_phi2(second_.angle(1)), curve.at_phi1(first_.angle(1)));
  std::array<double, 4> cut = {
      from, std::clamp(curve.at_phi1(first_.centre), from, std::max(from, to)),
      std::clamp(curve.at_phi2(second_.centre), from, std::max(from, to)), to};
  std::sort(cut.begin(), cut.end() - 1);
  double sum = series_at(second_cumulative_, second_.place(curve.always_above_below()));
  if (to > from)
    for (std::size_t i = 0; i + 1 < cut.size(); ++i)
      sum += adaptive_integral(density, cut[i], cut[i + 1], 1e-7);  // the pair errs by far less
  return std::clamp(sum, 0.0, 1.0);
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
