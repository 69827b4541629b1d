// The two weighings of rho, and what is read off treatment by treatment. See the header.
#include "stats/stand/model.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "stats/numeric/chebyshev.hpp"
#include "stats/stand/tails.hpp"

namespace plumule::stats {
namespace {

constexpr std::size_t fewest_points = 16, most_points = 512;
constexpr double right_angle = std::numbers::pi / 2;
constexpr double settled = 1e-2, negligible = 1e-8, nowhere = 1e-11, snapped = 1e-8;

// Clenshaw and Curtis's points and weights on [-1, 1] for each number of points that is used.
struct Rule {
  std::vector<double> points, weights;
};
const Rule& rule_of(std::size_t n) {
  static const auto rules = [] {
    std::array<Rule, 6> made;
    for (std::size_t i = 0; i < made.size(); ++i)
      made[i] = {chebyshev_points(fewest_points << i), clenshaw_curtis_weights(fewest_points << i)};
    return made;
  }();
  std::size_t i = 0;
  while (fewest_points << i < n) ++i;
  return rules[i];
}

using Nodes = std::vector<StandNode>;

// Densities of the nodes in both weighings, in units of the densest.
struct Densities {
  std::vector<double> by_trial, at_large;
};
Densities densities(const Nodes& nodes) {
  double top[2] = {-HUGE_VAL, -HUGE_VAL};
  for (const auto& node : nodes) {
    top[0] = std::max(top[0], node.by_trial);
    top[1] = std::max(top[1], node.at_large);
  }
  Densities made;
  for (const auto& node : nodes) {
    made.by_trial.push_back(std::exp(node.by_trial - top[0]));
    made.at_large.push_back(std::exp(node.at_large - top[1]));
  }
  return made;
}

// Whether every second point would have done nearly as well.
bool is_settled(const Nodes& nodes, double range) {
  const std::size_t n = nodes.size() - 1;
  const auto &fine = rule_of(n).weights, &coarse = rule_of(n / 2).weights;
  const auto found = densities(nodes);
  for (const auto* density_of : {&found.by_trial, &found.at_large}) {
    const auto& density = *density_of;
    double mass = 0, mass_off = 0, moment_off = 0;
    for (std::size_t k = 0; k <= n; ++k) {
      const double off = (k % 2 == 0 ? fine[k] - coarse[k / 2] : fine[k]) * density[k];
      mass += fine[k] * density[k];
      mass_off += off;
      moment_off += off * nodes[k].x;
    }
    if (std::fabs(mass_off) > settled * mass || std::fabs(moment_off) > settled * range * mass)
      return false;
  }
  return true;
}

void to_shares(Nodes& nodes) {
  double by_trial = 0, at_large = 0;
  for (const auto& node : nodes) {
    by_trial += node.by_trial;
    at_large += node.at_large;
  }
  for (auto& node : nodes) {
    node.by_trial /= by_trial;
    node.at_large /= at_large;
  }
}

// Whether there can be mass to speak of between points k and k + 1; the densities have one top
// each.
bool worth_a_look(const Densities& found, std::size_t k) {
  return std::max({found.by_trial[k], found.by_trial[k + 1], found.at_large[k],
                   found.at_large[k + 1]}) > nowhere;
}

// From the largest x down. rho = 1 has no density, nor has what is passed over.
Nodes walk_range(StandWalk& walk, double harmonic) {
  const double range = std::log1p(harmonic);
  StandNode passed_over;
  passed_over.by_trial = passed_over.at_large = -HUGE_VAL;
  Nodes nodes;
  for (std::size_t n = fewest_points; n <= most_points; n *= 2) {
    const auto found = densities(nodes);
    Nodes finer(n + 1, passed_over);
    for (std::size_t k = 0; k <= n; ++k)
      if (k % 2 == 0 && !nodes.empty())
        finer[k] = std::move(nodes[k / 2]);
      else if (k > 0 && (nodes.empty() || worth_a_look(found, k / 2)))
        finer[k] = walk.at(std::expm1(range / 2 * (1 + rule_of(n).points[k])) / harmonic);
    nodes = std::move(finer);
    if (n > fewest_points && is_settled(nodes, range)) break;
  }
  const auto found = densities(nodes);
  const auto& weights = rule_of(nodes.size() - 1).weights;
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    nodes[k].by_trial = weights[k] * found.by_trial[k];
    nodes[k].at_large = weights[k] * found.at_large[k];
  }
  to_shares(nodes);
  std::erase_if(nodes, [](const StandNode& node) {
    return node.by_trial < negligible && node.at_large < negligible;
  });
  to_shares(nodes);
  return nodes;
}

// A treatment's angle at four nodes.
struct alignas(sizeof(Four)) FourAngles {
  Four by_trial = {0, 0, 0, 0}, at_large = {0, 0, 0, 0}, mean = {0, 0, 0, 0}, per_sd = {1, 1, 1, 1};
};

PLUMULE_WIDE
void sum_tails(const std::vector<FourAngles>& all, double angle, TwoTails& made) {
  TailSum sum;
  for (const FourAngles& four : all)
    sum.add(four.by_trial, four.at_large, (angle - four.mean) * four.per_sd, four.per_sd);
  made = sum.whole();
}

}  // namespace

StandModel::StandModel(std::span<const PlacedUnit> units, int treatments, const RhoPrior& prior)
    : layout_(lay_out(units, treatments)), mean_(layout_.treatments()), spread_(mean_.size()) {
  check_rho_prior(prior);
  if (units.empty()) return;
  StandWalk walk(layout_, prior);
  if (prior.is_fixed()) {
    nodes_.push_back(walk.at(prior.fixed));
    nodes_[0].by_trial = nodes_[0].at_large = 1;
  } else {
    nodes_ = walk_range(walk, layout_.harmonic);
  }
  if (layout_.df < 1)
    for (auto& node : nodes_) node.by_trial = node.at_large;
  estimate();
  double x = 0;
  for (const auto& node : nodes_) x += node.by_trial * node.x;
  walk.at(std::expm1(x) / layout_.harmonic);
  for (std::size_t t = 0; t < mean_.size(); ++t)
    spread_[t] = {walk.pearson(t), walk.residual_df(t)};
}

void StandModel::estimate() {
  for (const auto& node : nodes_)
    for (std::size_t t = 0; t < mean_.size(); ++t) mean_[t] += node.by_trial * node.mean[t];
  for (double& m : mean_) {
    if (m < snapped) m = 0;
    if (m > 1 - snapped) m = 1;
  }
}

double StandModel::rho_by_trial() const {
  double sum = 0;
  for (const auto& node : nodes_) sum += node.by_trial * node.rho;
  return sum;
}

double StandModel::rho_at_large() const {
  double sum = 0;
  for (const auto& node : nodes_) sum += node.at_large * node.rho;
  return sum;
}

std::size_t StandModel::checked(int treatment) const {
  const auto t = static_cast<std::size_t>(treatment);
  if (treatment < 0 || t >= mean_.size() || layout_.units[t] == 0)
    throw std::domain_error("a treatment without units has no stand");
  return t;
}

double StandModel::mean(int treatment) const { return mean_[checked(treatment)]; }

StandModel::Spread StandModel::spread(int treatment) const { return spread_[checked(treatment)]; }

Interval StandModel::range(int treatment, double level) const {
  const std::size_t t = checked(treatment);
  const double tail = tail_probability(level, Side::both);
  double centre = 0, variance = 0;
  std::vector<FourAngles> angles((nodes_.size() + 3) / 4);
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const auto& node = nodes_[k];
    const double here = node.covariance[t * mean_.size() + t];
    auto& four = angles[k / 4];
    four.by_trial[k % 4] = node.by_trial;
    four.at_large[k % 4] = node.at_large;
    four.mean[k % 4] = node.angle[t];
    four.per_sd[k % 4] = 1 / std::sqrt(here);
    centre += node.by_trial * node.angle[t];
    variance += node.by_trial * here;
  }
  const auto tails = [&angles](double angle) {
    TwoTails made;
    sum_tails(angles, angle, made);
    return made;
  };
  const auto fraction = [](double angle) {
    const double s = std::sin(std::clamp(angle, 0.0, right_angle));
    return s * s;
  };
  const double sd = std::sqrt(variance);
  Interval made{method::standardised, level, 0, 1};
  const auto end = [&](bool upper) {
    const double start = centre + (upper ? 2 : -2) * sd;
    const double told = std::asin(std::sqrt(mean_[t]));  // no end lies beyond it
    return fraction(
        wider_end(tails, upper, tail, start, upper ? told : 0, upper ? right_angle : told));
  };
  made.lower = std::min(end(false), mean_[t]);
  made.upper = std::max(end(true), mean_[t]);
  return made;
}

}  // namespace plumule::stats
