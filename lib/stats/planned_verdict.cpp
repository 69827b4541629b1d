// See the header for what is exact here and what is not.
#include "stats/planned_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "stats/bayes_factor.hpp"
#include "stats/distributions.hpp"
#include "stats/rho_nodes.hpp"

namespace plumule::stats {
namespace {

constexpr double pi = std::numbers::pi;
constexpr std::size_t terms_each = 3;  // log-likelihood, slope, curvature
constexpr double node_step = 1;

double lower_tail(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

// Sums over i < m of log(q + i theta), of its first and of its second derivative in q, m = 0 .. n.
struct Rising {
  std::vector<double> log, first, second;
  Rising(double q, double theta, std::size_t n) : log(n + 1), first(n + 1), second(n + 1) {
    for (std::size_t i = 0; i < n; ++i) {
      const double value = q + static_cast<double>(i) * theta;
      log[i + 1] = log[i] + std::log(value);
      first[i + 1] = first[i] + 1 / value;
      second[i + 1] = second[i] - 1 / (value * value);
    }
  }
};

struct Moments {
  double sum = 0, squares = 0;  // squares about the mean
};

Moments moments(std::span<const int> up) {
  Moments m;
  for (const int x : up) m.sum += x;
  const double mean = m.sum / static_cast<double>(up.size());
  for (const int x : up) m.squares += (x - mean) * (x - mean);
  return m;
}

// Without any variance within the treatments the rule asks for the Bayes factor.
bool factor_claims(std::span<const int> first, std::span<const int> second, std::int64_t seeds) {
  std::array<std::vector<TrayCount>, 2> trays;
  for (const int x : first) trays[0].push_back({x, seeds});
  for (const int x : second) trays[1].push_back({x, seeds});
  return stand_bayes_factor(trays[0], trays[1]).value >= factor_needed;
}

}  // namespace

PlannedVerdict::PlannedVerdict(double p1, double p2, double rho, std::int64_t seeds,
                               const RhoPrior& prior, double d)
    : seeds_(seeds), d_(d) {
  if (!(p1 >= 0 && p1 <= 1 && p2 >= 0 && p2 <= 1))
    throw std::domain_error("a supposed percentage must lie between 0 and 100 %");
  if (!(rho >= 0 && rho < 1)) throw std::domain_error("a supposed rho must lie in [0, 1)");
  if (seeds < 1 || seeds > 1000)
    throw std::domain_error("a sowing to suppose needs 1 to 1000 seeds");
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
  auto range = whole_rho_range(prior, seeds);
  range.from += 4;  // what lies below acts as rho = 0 does, and goes to the first node
  range.to = std::min(range.to, std::log(30.0));
  for (const auto& node : make_rho_nodes(prior, range, node_step)) {
    theta_.push_back(node.theta);
    log_weight_.push_back(node.log_weight);
  }
  first_ = arm(p1, rho);
  second_ = arm(p2, rho);
}

PlannedVerdict::Arm PlannedVerdict::arm(double p, double rho) const {
  const auto n = static_cast<std::size_t>(seeds_);
  const double inner = std::clamp(p, 1e-6, 1 - 1e-6);
  std::vector<double> log_choose(n + 1);
  for (std::size_t x = 0; x < n; ++x)
    log_choose[x + 1] =
        log_choose[x] + std::log(static_cast<double>(n - x)) - std::log(static_cast<double>(x + 1));
  const auto log_sown = [n](double theta) {
    double sum = 0;
    for (std::size_t i = 0; i < n; ++i) sum += std::log1p(static_cast<double>(i) * theta);
    return sum;
  };
  Arm made;
  made.angle = std::asin(std::sqrt(inner));
  const double slope = std::sin(2 * made.angle), bend = 2 * std::cos(2 * made.angle);
  made.terms.resize((n + 1) * theta_.size() * terms_each);
  made.information.assign(theta_.size(), 0);
  for (std::size_t j = 0; j < theta_.size(); ++j) {
    const Rising up(inner, theta_[j], n), down(1 - inner, theta_[j], n);
    const double sown = log_sown(theta_[j]);
    for (std::size_t x = 0; x <= n; ++x) {
      const double log_l = up.log[x] + down.log[n - x] - sown;
      const double first = up.first[x] - down.first[n - x];
      const double second = up.second[x] + down.second[n - x];
      double* term = &made.terms[(x * theta_.size() + j) * terms_each];
      term[0] = log_l;
      term[1] = first * slope;
      term[2] = -(second * slope * slope + first * bend);
      made.information[j] += std::exp(log_l + log_choose[x]) * term[1] * term[1];
    }
  }
  const double theta = rho / (1 - rho);
  const Rising up(inner, theta, n), down(1 - inner, theta, n);
  const double sown = log_sown(theta);
  double sum = 0;
  for (std::size_t x = 0; x <= n; ++x) {
    sum += std::exp(up.log[x] + down.log[n - x] - sown + log_choose[x]);
    made.cumulative.push_back(sum);
  }
  return made;
}

int PlannedVerdict::drawn(const Arm& arm, Random& random) const {
  const double u = random.unit() * arm.cumulative.back();
  return static_cast<int>(std::upper_bound(arm.cumulative.begin(), arm.cumulative.end(), u) -
                          arm.cumulative.begin());
}

PlannedVerdict::Chances PlannedVerdict::chances(std::span<const int> first,
                                                std::span<const int> second) const {
  const std::size_t nodes = theta_.size();
  const double trays = static_cast<double>(first.size());
  std::vector<double> log_l(log_weight_), angle(2 * nodes), variance(2 * nodes),
      sums(nodes * terms_each);
  for (const std::size_t side : {0u, 1u}) {
    const Arm& one = side == 0 ? first_ : second_;
    std::fill(sums.begin(), sums.end(), 0.0);
    for (const int x : side == 0 ? first : second) {
      const double* term = &one.terms[static_cast<std::size_t>(x) * sums.size()];
      for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += term[i];
    }
    for (std::size_t j = 0; j < nodes; ++j) {
      const double* sum = &sums[j * terms_each];
      // Where the parabola turns up (far from the truth) a fifth of the curvature expected stands.
      const double curvature = std::max(sum[2], 0.2 * trays * one.information[j]);
      angle[2 * j + side] = std::clamp(one.angle + sum[1] / curvature, 0.0, pi / 2);
      variance[2 * j + side] = 1 / curvature;
      log_l[j] += sum[0] + sum[1] * sum[1] / curvature / 2 - std::log(curvature) / 2;
    }
  }
  const double top = *std::max_element(log_l.begin(), log_l.end());
  Chances made{0, 0};
  double mass = 0;
  for (std::size_t j = 0; j < nodes; ++j) {
    const double weight = std::exp(log_l[j] - top);
    if (weight < 1e-6) continue;
    mass += weight;
    const double sd = std::sqrt(variance[2 * j] + variance[2 * j + 1]);
    const double apart = angle[2 * j] - angle[2 * j + 1];
    const double together = angle[2 * j] + angle[2 * j + 1];
    made.better += weight * lower_tail(apart / sd);
    // p1 - p2 = sin(phi1 + phi2) sin(phi1 - phi2): the sum by three Gauss nodes.
    for (const double step : {-1.0, 0.0, 1.0}) {
      const double sine = std::fabs(std::sin(together + step * std::numbers::sqrt3 * sd));
      const double reach = sine <= d_ ? pi / 2 : std::asin(d_ / sine);
      made.within += weight * (step == 0 ? 2.0 / 3 : 1.0 / 6) *
                     (lower_tail((reach - apart) / sd) - lower_tail((-reach - apart) / sd));
    }
  }
  made.better /= mass;
  made.within /= mass;
  return made;
}

StandCode PlannedVerdict::judge(std::span<const int> first, std::span<const int> second) const {
  if (first.size() != second.size() || first.size() < 2)
    throw std::domain_error("a trial to suppose needs two sowings each or more, as many of both");
  const double trays = static_cast<double>(first.size());
  const auto one = moments(first), two = moments(second);
  const double df = 2 * trays - 2, squares = one.squares + two.squares;
  const double apart = (one.sum - two.sum) / trays;
  const bool flat = squares <= 1e-9;
  bool claim = flat && apart != 0;
  if (!flat) {
    const double t = std::fabs(apart) / std::sqrt(squares / df * 2 / trays);
    claim = 2 * student_t_upper(t, df) <= t_level;
  }
  const auto chance = chances(first, second);
  claim = claim && std::max(chance.better, 1 - chance.better) >= sure_of_sign;
  if (claim && (!flat || factor_claims(first, second, seeds_)))
    return chance.better >= 0.5 ? StandCode::more : StandCode::fewer;
  return chance.within >= sure_within ? StandCode::neither : StandCode::too_small;
}

StandCode PlannedVerdict::draw(Random& random, int trays) const {
  if (trays < 2) throw std::domain_error("a trial to suppose needs two sowings each or more");
  std::vector<int> first, second;
  first.reserve(static_cast<std::size_t>(trays));
  second.reserve(static_cast<std::size_t>(trays));
  for (int i = 0; i < trays; ++i) {
    first.push_back(drawn(first_, random));
    second.push_back(drawn(second_, random));
  }
  return judge(first, second);
}

}  // namespace plumule::stats
