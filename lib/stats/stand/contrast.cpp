// See the header for what is integrated and how.
#include "stats/stand/contrast.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "stats/stand/tails.hpp"

namespace plumule::stats {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double spread_level = 0.05, near_enough = 1e-3, usual_angle = 0.2;

// sin^2 between 0 and pi/2, carried on beyond in mirror image, with its slope and half its bend.
struct Percentage {
  double value, slope, half_bend;
};
inline Percentage percentage(double angle) {
  angle = std::clamp(angle, -pi / 2, pi);
  const double s = std::sin(angle), c = std::cos(angle), low = s * s, high = c * c;
  if (angle < 0) return {-low, -2 * s * c, low - high};
  if (angle > pi / 2) return {1 + high, -2 * s * c, low - high};
  return {low, 2 * s * c, high - low};
}

// P(D > d) and P(D < d) under both weighings.
class Difference {
 public:
  Difference(const StandModel& model, std::size_t first, std::size_t second) {
    const std::size_t all = model.layout().treatments();
    for (const auto& node : model.nodes()) {
      const double v1 = node.covariance[first * all + first];
      const double v2 = node.covariance[second * all + second];
      const double both = node.covariance[first * all + second];
      const double variance = v1 + v2 - 2 * both;
      const double t = node.angle[first] - node.angle[second], sd = std::sqrt(variance);
      const double up = std::clamp((v1 - both) / variance, 0.0, 1.0), down = 1 - up;
      const double shared = node.angle[second] + down * t;
      const double shared_sd =
          std::sqrt(std::max(0.0, down * down * v1 + up * up * v2 + 2 * up * down * both));
      for (const double z : {-std::numbers::sqrt3, 0.0, std::numbers::sqrt3}) {
        const double share = z == 0 ? 2.0 / 3 : 1.0 / 6;
        lines_.push_back({share * node.by_trial, share * node.at_large, t, sd,
                          shared + z * shared_sd, up, down});
      }
      centre_ += node.by_trial *
                 (percentage(node.angle[first]).value - percentage(node.angle[second]).value);
      spread_ += node.by_trial * (v1 * square(percentage(node.angle[first]).slope) +
                                  v2 * square(percentage(node.angle[second]).slope));
    }
  }

  TwoTails operator()(double d) {
    TwoTails made;
    double before = d / 2;  // the t of the line before, which is much the same
    for (auto& line : lines_) {
      solve(line, d, solved_ ? line.at + (d - last_) / line.slope : before);
      before = line.at;
      made.add(line.by_trial, line.at_large, (line.at - line.t) / line.sd,
               1 / (line.slope * line.sd));
    }
    last_ = d;
    solved_ = true;
    return made;
  }

  double centre() const { return centre_; }
  double sd() const { return std::sqrt(spread_); }

 private:
  // Of one rho and one c: t is normal, and D rises along a_first = c + up t, a_second = c - down t.
  struct Line {
    double by_trial, at_large;
    double t, sd;
    double c, up, down;
    double at = 0, slope = 1;  // where it was solved last, and dD/dt there
  };
  static double square(double x) { return x * x; }

  // Leaves the t with D(t) = d in line.at, and dD/dt in line.slope: Halley's steps inside a
  // bracket, each of which leaves about the cube of its own length to go.
  static void solve(Line& line, double d, double start) {
    double low = -1.5 * pi, high = 1.5 * pi;
    line.at = std::clamp(start, low, high);
    for (int i = 0; i < 100; ++i) {
      const auto first = percentage(line.c + line.up * line.at);
      const auto second = percentage(line.c - line.down * line.at);
      const double off = first.value - second.value - d;
      const double slope = std::max(line.up * first.slope + line.down * second.slope, 1e-12);
      const double half_bend =
          line.up * line.up * first.half_bend - line.down * line.down * second.half_bend;
      (off > 0 ? high : low) = line.at;
      const double turn = slope - off * half_bend / slope;
      const double step = turn > 0.5 * slope ? -off / turn : -off / slope, next = line.at + step;
      const bool inside = next >= low && next <= high;
      line.slope = slope + 2 * half_bend * step;
      line.at = inside ? next : (low + high) / 2;
      if (inside && std::fabs(step) < near_enough && std::fabs(half_bend * step) < 0.01 * slope)
        break;
    }
    line.slope = std::max(line.slope, 1e-12);
  }

  std::vector<Line> lines_;
  double centre_ = 0, spread_ = 0, last_ = 0;
  bool solved_ = false;
};

double bayes_factor(const StandModel& model, std::size_t first, std::size_t second) {
  const std::size_t all = model.layout().treatments();
  double differing[2] = {0, 0}, alike[2] = {0, 0};
  for (const auto& node : model.nodes()) {
    const double t = node.angle[first] - node.angle[second];
    const double variance = node.covariance[first * all + first] +
                            node.covariance[second * all + second] -
                            2 * node.covariance[first * all + second];
    const auto density = [t](double v) { return std::exp(-t * t / (2 * v)) / std::sqrt(v); };
    const double one = density(variance + usual_angle * usual_angle), none = density(variance);
    differing[0] += node.by_trial * one;
    differing[1] += node.at_large * one;
    alike[0] += node.by_trial * none;
    alike[1] += node.at_large * none;
  }
  return std::min(differing[0] / alike[0], differing[1] / alike[1]);
}

double cautious(double a, double b) {
  if ((a > 0.5) != (b > 0.5)) return 0.5;
  return a > 0.5 ? std::min(a, b) : std::max(a, b);
}

std::optional<int> spreads_more(const StandModel& model, int first, int second) {
  const auto of_few = [&](int few, int many) {
    const auto a = model.spread(few), b = model.spread(many);
    if (a.df < 0.5 || b.df < 0.5 || b.pearson <= 0) return false;
    const double f = a.pearson / a.df / (b.pearson / b.df);
    return beta_lower(b.df / (b.df + a.df * f), b.df / 2, a.df / 2) <= spread_level;
  };
  const auto& units = model.layout().units;
  const int one = units[static_cast<std::size_t>(first)],
            two = units[static_cast<std::size_t>(second)];
  if (one < two && of_few(first, second)) return first;
  if (two < one && of_few(second, first)) return second;
  return std::nullopt;
}

}  // namespace

double StandContrast::tail() const { return 2 * std::min(p_better, 1 - p_better); }

StandContrast contrast(const StandModel& model, int first, int second, double d, double level) {
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
  const double outside = tail_probability(level, Side::both);
  StandContrast made;
  made.first = first;
  made.second = second;
  made.estimate = model.mean(first) - model.mean(second);
  made.range = {method::standardised, level, -1, 1};
  const auto& layout = model.layout();
  const auto one = static_cast<std::size_t>(first), two = static_cast<std::size_t>(second);
  if (one == two) throw std::domain_error("a treatment cannot be held against itself");
  made.units_first = layout.units[one];
  made.units_second = layout.units[two];
  made.df = layout.df;
  made.told_apart = layout.tied[one] == layout.tied[two];
  if (!made.told_apart) return made;
  made.gaps_filled = layout.gaps_filled[static_cast<std::size_t>(layout.tied[one])];
  made.spreads_more = spreads_more(model, first, second);
  made.bayes_factor = bayes_factor(model, one, two);

  Difference difference(model, one, two);
  const TwoTails at_zero = difference(0), over = difference(d), under = difference(-d);
  made.p_better = cautious(1 - at_zero.by_trial, 1 - at_zero.at_large);
  made.p_worth = cautious(1 - over.by_trial, 1 - over.at_large);
  made.p_worth_less = cautious(under.by_trial, under.at_large);
  made.p_within =
      std::max(0.0, std::min(over.by_trial - under.by_trial, over.at_large - under.at_large));
  // An end is looked for on its own side of 0: so it is clear of 0 just where a claim is. And not
  // beyond the estimate, at which it would stand.
  const auto end = [&](bool upper) {
    const double tail = upper ? at_zero.larger_above() : at_zero.larger_below();
    const bool above = (tail <= outside) != upper;
    double low = above ? 0 : -1, high = above ? 1 : 0;
    (upper ? low : high) = upper ? std::max(low, made.estimate) : std::min(high, made.estimate);
    if (low >= high) return made.estimate;
    const double start = difference.centre() + (upper ? 2 : -2) * difference.sd();
    return wider_end(difference, upper, outside, start, low, high);
  };
  made.range.lower = end(false);
  made.range.upper = end(true);
  return made;
}

}  // namespace plumule::stats
