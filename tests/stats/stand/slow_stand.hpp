// The model of the stand once more, written to be plain and slow: a row a unit, full matrices, rho
// on a fine even grid, the two angles integrated over one of them. It shares no code with the
// library but its types.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <utility>
#include <vector>

#include "stats/stand/layout.hpp"

namespace plumule::tests {

using Matrix = std::vector<std::vector<double>>;

// The inverse by Gauss and Jordan, and log |determinant|.
inline double invert(Matrix& m) {
  const std::size_t n = m.size();
  double log_determinant = 0;
  Matrix inverse(n, std::vector<double>(n));
  for (std::size_t i = 0; i < n; ++i) inverse[i][i] = 1;
  for (std::size_t i = 0; i < n; ++i) {
    std::size_t best = i;
    for (std::size_t r = i; r < n; ++r)
      if (std::fabs(m[r][i]) > std::fabs(m[best][i])) best = r;
    std::swap(m[i], m[best]);
    std::swap(inverse[i], inverse[best]);
    const double pivot = m[i][i];
    log_determinant += std::log(std::fabs(pivot));
    for (std::size_t k = 0; k < n; ++k) {
      m[i][k] /= pivot;
      inverse[i][k] /= pivot;
    }
    for (std::size_t r = 0; r < n; ++r) {
      if (r == i) continue;
      const double factor = m[r][i];
      for (std::size_t k = 0; k < n; ++k) {
        m[r][k] -= factor * m[i][k];
        inverse[r][k] -= factor * inverse[i][k];
      }
    }
  }
  m = inverse;
  return log_determinant;
}

// Two treatments, 1 and 0, in strata 0, 1, ... that hold both somewhere.
class SlowStand {
 public:
  SlowStand(const std::vector<stats::PlacedUnit>& units, double b, int points = 400)
      : units_(units) {
    std::size_t strata = 0;
    double inverse_sum = 0;
    for (const auto& unit : units) {
      strata = std::max(strata, static_cast<std::size_t>(unit.stratum) + 1);
      inverse_sum += 1.0 / static_cast<double>(unit.sown);
    }
    size_ = strata + 1;
    Matrix held(strata, std::vector<double>(2));
    for (const auto& unit : units)
      ++held[static_cast<std::size_t>(unit.stratum)][static_cast<std::size_t>(unit.treatment)];
    double whole = 0;
    for (const auto& h : held) {
      share_.push_back(h[0] > 0 && h[1] > 0 ? h[0] + h[1] : 0);
      whole += share_.back();
    }
    for (double& share : share_) share /= whole;
    const double count = static_cast<double>(units.size()), harmonic = count / inverse_sum;
    const double df = count - static_cast<double>(size_);
    const double least = std::min(1.0, 1.5 / df) / harmonic;
    beta_.assign(size_, 0);
    double top[2] = {-1e300, -1e300};
    for (int k = points; k-- > 0;) {
      const double x = (k + 0.5) / points * std::log1p(harmonic), rho = std::expm1(x) / harmonic;
      Node node;
      fit(rho, false);
      for (const std::size_t t : {0u, 1u}) node.plain[t] = mean_of(t);
      std::fill(beta_.begin(), beta_.end(), 0.0);
      fit(rho, true);
      describe(rho, node);
      std::fill(beta_.begin(), beta_.end(), 0.0);
      const double prior[2] = {std::log(1 - rho) - 0.8 * std::log(rho + least),
                               (b - 1) * std::log(1 - rho)};
      for (const std::size_t w : {0u, 1u}) {
        node.weight[w] += prior[w] + x;
        top[w] = std::max(top[w], node.weight[w]);
      }
      nodes_.push_back(node);
    }
    double sum[2] = {0, 0};
    for (auto& node : nodes_)
      for (const std::size_t w : {0u, 1u})
        sum[w] += node.weight[w] = std::exp(node.weight[w] - top[w]);
    for (auto& node : nodes_)
      for (const std::size_t w : {0u, 1u}) node.weight[w] /= sum[w];
    for (const auto& node : nodes_)
      for (const std::size_t t : {0u, 1u}) mean_[t] += node.weight[0] * node.plain[t];
  }

  double mean(std::size_t treatment) const { return mean_[treatment]; }

  // P(m_1 - m_0 > d), by this trial (0) or by trays at large (1).
  double above(double d, std::size_t weighing) const {
    constexpr int steps = 400;
    double sum = 0;
    for (const auto& node : nodes_) {
      if (node.weight[weighing] < 1e-9) continue;
      const double sd0 = std::sqrt(node.variance[0]), slope = node.covariance / node.variance[0];
      const double sd1 = std::sqrt(node.variance[1] - slope * node.covariance);
      double here = 0;
      for (int i = 0; i < steps; ++i) {
        const double z = -8 + 16 * (i + 0.5) / steps, a0 = node.angle[0] + z * sd0;
        const double needed = angle_of(percentage(a0) + d);
        const double tail = (node.angle[1] + slope * z * sd0 - needed) / sd1;
        here += 16.0 / steps * std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi) *
                std::erfc(-tail / std::numbers::sqrt2) / 2;
      }
      sum += node.weight[weighing] * here;
    }
    return sum;
  }

 private:
  struct Node {
    double rho = 0, weight[2] = {0, 0}, plain[2] = {0, 0}, angle[2] = {0, 0}, variance[2] = {0, 0},
           covariance = 0;
  };

  // Carried on beyond 0 and 1 in mirror image.
  static double percentage(double angle) {
    const double s = std::sin(angle), c = std::cos(angle);
    return angle < 0 ? -s * s : angle > std::numbers::pi / 2 ? 1 + c * c : s * s;
  }
  static double angle_of(double p) {
    if (p < 0) return p <= -1 ? -1e9 : -std::asin(std::sqrt(-p));
    if (p > 1) return p >= 2 ? 1e9 : std::numbers::pi / 2 + std::asin(std::sqrt(p - 1));
    return std::asin(std::sqrt(p));
  }
  static double logistic(double eta) { return 1 / (1 + std::exp(-eta)); }

  std::vector<double> row(const stats::PlacedUnit& unit) const {
    std::vector<double> made(size_);
    made[static_cast<std::size_t>(unit.stratum)] = 1;
    made[size_ - 1] = unit.treatment;
    return made;
  }
  static double fraction(const stats::PlacedUnit& unit) {
    return static_cast<double>(unit.up) / static_cast<double>(unit.sown);
  }
  static double f(const stats::PlacedUnit& unit, double rho) {
    return 1 + static_cast<double>(unit.sown - 1) * rho;
  }
  double eta(const stats::PlacedUnit& unit) const {
    return beta_[static_cast<std::size_t>(unit.stratum)] + unit.treatment * beta_[size_ - 1];
  }
  double mean_of(std::size_t treatment) const {
    double sum = 0;
    for (std::size_t s = 0; s < share_.size(); ++s)
      sum += share_[s] * logistic(beta_[s] + static_cast<double>(treatment) * beta_[size_ - 1]);
    return sum;
  }
  double information(double rho, Matrix& made, bool weights_alone = false) const {
    made.assign(size_, std::vector<double>(size_));
    for (const auto& unit : units_) {
      const auto x = row(unit);
      const double p = logistic(eta(unit)), w = static_cast<double>(unit.sown) / f(unit, rho) *
                                                (weights_alone ? 1 : p * (1 - p));
      for (std::size_t i = 0; i < size_; ++i)
        for (std::size_t j = 0; j < size_; ++j) made[i][j] += w * x[i] * x[j];
    }
    return invert(made);
  }

  // Without a penalty a cell all up runs away: some turns bring it to 0 or 1 well enough.
  void fit(double rho, bool penalised) {
    const int most_turns = penalised ? 2000 : 25;
    for (int turn = 0; turn < most_turns; ++turn) {
      Matrix v;
      information(rho, v);
      std::vector<double> score(size_);
      for (const auto& unit : units_) {
        const auto x = row(unit);
        const double p = logistic(eta(unit)), n = static_cast<double>(unit.sown) / f(unit, rho);
        double hat = 0;
        for (std::size_t i = 0; i < size_; ++i)
          for (std::size_t j = 0; j < size_; ++j) hat += x[i] * v[i][j] * x[j];
        hat *= n * p * (1 - p);
        const double off = n * (fraction(unit) - p) + (penalised ? hat * (0.5 - p) : 0);
        for (std::size_t i = 0; i < size_; ++i) score[i] += off * x[i];
      }
      double longest = 0;
      std::vector<double> step(size_);
      for (std::size_t i = 0; i < size_; ++i) {
        for (std::size_t j = 0; j < size_; ++j) step[i] += v[i][j] * score[j];
        longest = std::max(longest, std::fabs(step[i]));
      }
      for (std::size_t i = 0; i < size_; ++i) beta_[i] += step[i] / std::max(1.0, longest);
      if (longest < 1e-11 || !std::isfinite(longest)) return;
    }
  }

  void describe(double rho, Node& node) const {
    Matrix v;
    double whole[2] = {0, 0}, average[2] = {0, 0}, pearson = 0, together = 0;
    for (const auto& unit : units_) {
      const double p = logistic(eta(unit)), w = static_cast<double>(unit.sown) / f(unit, rho);
      whole[unit.treatment] += w;
      average[unit.treatment] += w * p * (1 - p);
    }
    for (const std::size_t t : {0u, 1u}) average[t] /= whole[t];
    node.rho = rho;
    for (const auto& unit : units_) {
      const double p = logistic(eta(unit)), n = static_cast<double>(unit.sown);
      const double off = n * (fraction(unit) - p) * (fraction(unit) - p) / f(unit, rho);
      pearson += off / (p * (1 - p));
      together += off / average[unit.treatment];
      node.weight[0] -= 0.5 * std::log(f(unit, rho));
      const double theta = rho / (1 - rho);
      for (std::int64_t j = 0; j < unit.sown; ++j) {
        const double step = static_cast<double>(j) * theta;
        if (j < unit.up) node.weight[1] += std::log(p + step);
        if (j < unit.sown - unit.up) node.weight[1] += std::log(1 - p + step);
        node.weight[1] -= std::log(1 + step);
      }
    }
    node.weight[0] -= 0.5 * std::max(pearson, together);
    const double room = information(rho, v, size_ > 2);
    for (double& weight : node.weight) weight -= room / 2;
    information(rho, v);
    Matrix slope(2, std::vector<double>(size_));
    for (const std::size_t t : {0u, 1u})
      for (std::size_t s = 0; s < share_.size(); ++s) {
        const double p = logistic(beta_[s] + static_cast<double>(t) * beta_[size_ - 1]);
        slope[t][s] = share_[s] * p * (1 - p);
        slope[t][size_ - 1] += static_cast<double>(t) * slope[t][s];
      }
    const auto across = [&](std::size_t s, std::size_t t) {
      double sum = 0;
      for (std::size_t i = 0; i < size_; ++i)
        for (std::size_t j = 0; j < size_; ++j) sum += slope[s][i] * v[i][j] * slope[t][j];
      return sum;
    };
    double to_angle[2] = {0, 0};
    for (const std::size_t t : {0u, 1u}) {
      const double penalised = mean_of(t), worth = penalised * (1 - penalised) / across(t, t);
      const double m = (worth * node.plain[t] + 0.5) / (worth + 1);
      node.angle[t] = std::asin(std::sqrt(m));
      to_angle[t] = 0.5 / std::sqrt(m * (1 - m));
      node.variance[t] = across(t, t) * to_angle[t] * to_angle[t];
    }
    node.covariance = across(0, 1) * to_angle[0] * to_angle[1];
  }

  std::vector<stats::PlacedUnit> units_;
  std::size_t size_ = 0;
  std::vector<double> share_, beta_;
  std::vector<Node> nodes_;
  double mean_[2] = {0, 0};
};

}  // namespace plumule::tests
