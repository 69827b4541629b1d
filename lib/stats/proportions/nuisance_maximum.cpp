// See the header.
#include "stats/proportions/nuisance_maximum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "stats/numeric/count_probability.hpp"

namespace plumule::stats {
namespace {

// All probabilities of one binomial for any p, by the ratio of neighbours from the mode.
class BinomialRow {
 public:
  explicit BinomialRow(int n) : n_(n), up_(size()), down_(size()), at(size()) {
    for (int k = 0; k <= n; ++k) {
      up_[index(k)] = static_cast<double>(n - k) / (k + 1);
      down_[index(k)] = static_cast<double>(k) / (n - k + 1);
    }
  }

  void fill(double p) {
    std::fill(at.begin(), at.end(), 0.0);
    const int mode = std::clamp(static_cast<int>((n_ + 1) * p), 0, n_);
    const double odds = p / (1 - p), top = binomial_probability(mode, n_, p);
    double value = top;
    for (int k = mode; value > 1e-290; ++k) {
      at[index(k)] = value;
      if (k == n_) break;
      value *= up_[index(k)] * odds;
    }
    value = top;
    for (int k = mode; k > 0; --k) {
      value *= down_[index(k)] / odds;
      if (!(value > 1e-290)) break;
      at[index(k - 1)] = value;
    }
  }

 private:
  static std::size_t index(int k) { return static_cast<std::size_t>(k); }
  std::size_t size() const { return static_cast<std::size_t>(n_) + 1; }

  int n_;
  std::vector<double> up_, down_;

 public:
  std::vector<double> at;
};

class Region {
 public:
  Region(int n1, int n2, const std::vector<TableRun>& runs)
      : n2_(n2),
        first_(n1),
        second_(n2),
        runs_(runs),
        below_(static_cast<std::size_t>(n2) + 2),
        above_(static_cast<std::size_t>(n2) + 2) {}

  // At p = sin^2(angle).
  double probability(double angle) {
    const double s = std::sin(angle), p = s * s;
    if (p <= 0 || p >= 1) return corner(p > 0.5);
    first_.fill(p);
    second_.fill(p);
    const std::size_t size = static_cast<std::size_t>(n2_) + 1;
    for (std::size_t k = 0; k < size; ++k) below_[k + 1] = below_[k] + second_.at[k];
    for (std::size_t k = size; k-- > 0;) above_[k] = above_[k + 1] + second_.at[k];
    double sum = 0;
    for (const TableRun& run : runs_) {
      const std::size_t from = static_cast<std::size_t>(run.from);
      const std::size_t past = static_cast<std::size_t>(run.to) + 1;
      const double inside = run.to == n2_ ? above_[from] : below_[past] - below_[from];
      sum += first_.at[static_cast<std::size_t>(run.x1)] * inside;
    }
    return sum;
  }

 private:
  // p = 0 or 1: all the weight on the empty or the full table.
  double corner(bool full) const {
    const int x1 = full ? static_cast<int>(first_.at.size()) - 1 : 0, x2 = full ? n2_ : 0;
    return std::any_of(runs_.begin(), runs_.end(), [&](const TableRun& run) {
      return run.x1 == x1 && run.from <= x2 && x2 <= run.to;
    });
  }

  int n2_;
  BinomialRow first_, second_;
  const std::vector<TableRun>& runs_;
  std::vector<double> below_, above_;
};

}  // namespace

NuisanceMaximum maximise_over_nuisance(int n1, int n2, const std::vector<TableRun>& runs) {
  Region region(n1, n2, runs);
  const double end = std::numbers::pi / 2;
  const int steps = 100 + static_cast<int>(std::ceil(end * 2 * 16 * std::sqrt(n1 + n2)));
  std::vector<double> values(static_cast<std::size_t>(steps) + 1);
  for (int i = 0; i <= steps; ++i)
    values[static_cast<std::size_t>(i)] = region.probability(end * i / steps);

  double best = 0, angle = 0;
  const auto keep = [&](double value, double where) {
    if (value > best) {
      best = value;
      angle = where;
    }
  };
  for (std::size_t i = 0; i < values.size(); ++i)
    keep(values[i], end * static_cast<double>(i) / steps);
  if (best > 1 - 1e-13) return {1, std::pow(std::sin(angle), 2)};
  const double threshold = best * 0.98;
  const double golden = (std::sqrt(5.0) - 1) / 2;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const bool left = i == 0 || values[i] >= values[i - 1];
    const bool right = i + 1 == values.size() || values[i] > values[i + 1];
    if (!left || !right || values[i] < threshold) continue;
    double a = end * (i == 0 ? 0 : static_cast<double>(i) - 1) / steps;
    double b = std::min(end, end * (static_cast<double>(i) + 1) / steps);
    double x = b - golden * (b - a), y = a + golden * (b - a);
    double fx = region.probability(x), fy = region.probability(y);
    for (int k = 0; k < 30; ++k) {  // to a millionth of the step: the top is flat beyond that
      if (fx > fy) {
        b = y;
        y = x;
        fy = fx;
        x = b - golden * (b - a);
        fx = region.probability(x);
      } else {
        a = x;
        x = y;
        fx = fy;
        y = a + golden * (b - a);
        fy = region.probability(y);
      }
    }
    keep(fx, x);
    keep(fy, y);
  }
  const double s = std::sin(angle);
  return {std::min(1.0, best), s * s};
}

}  // namespace plumule::stats
