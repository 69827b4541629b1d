// See the header for what is exact here and what is not.
#include "stats/trials/planned_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/normal_tail.hpp"
#include "stats/numeric/wide.hpp"
#include "stats/trays/bayes_factor.hpp"
#include "stats/trays/rho_nodes.hpp"

namespace plumule::stats {
namespace {

constexpr double pi = std::numbers::pi;
constexpr std::size_t terms_each = 3;  // log-likelihood, slope, curvature
constexpr std::size_t block = 12;      // doubles summed at once
constexpr double node_step = 1;
constexpr std::size_t guide_size = 256;

const NormalTail& lower_tail() {
  static const NormalTail tail;
  return tail;
}

// sums = the rows of `table` that `which` names, added up; `width` is a whole number of blocks.
PLUMULE_WIDE
void add_rows(const double* table, std::size_t width, std::span<const int> which, double* sums) {
  for (std::size_t from = 0; from < width; from += block) {
    Four a = {0, 0, 0, 0}, b = a, c = a;
    for (const int x : which) {
      const double* row = table + static_cast<std::size_t>(x) * width + from;
      Four d, e, f;
      load(d, row);
      load(e, row + 4);
      load(f, row + 8);
      a += d;
      b += e;
      c += f;
    }
    store(sums + from, a);
    store(sums + from + 4, b);
    store(sums + from + 8, c);
  }
}

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
  std::int64_t sum = 0, squares = 0, n = static_cast<std::int64_t>(up.size());
  for (const int x : up) {
    sum += x;
    squares += static_cast<std::int64_t>(x) * x;
  }
  // Whole numbers until the last step: nothing cancels.
  return {static_cast<double>(sum),
          static_cast<double>(n * squares - sum * sum) / static_cast<double>(n)};
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
  range.knee += 2;  // a smaller rho acts as this one does, at the accuracy that planning needs
  range.from += 2;
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
        log_choose[x] + std::log(static_cast<double>(n - x) / static_cast<double>(x + 1));
  const auto log_sown = [n](double theta) {
    double sum = 0, product = 1;
    for (std::size_t i = 0; i < n; ++i) {
      product *= 1 + static_cast<double>(i) * theta;
      if (product < 1e200) continue;
      sum += std::log(product);
      product = 1;
    }
    return sum + std::log(product);
  };
  Arm made;
  made.angle = std::asin(std::sqrt(inner));
  const double slope = std::sin(2 * made.angle), bend = 2 * std::cos(2 * made.angle);
  const std::size_t width = padded() * terms_each;
  made.terms.resize((n + 1) * width);
  made.information.assign(theta_.size(), 0);
  for (std::size_t j = 0; j < theta_.size(); ++j) {
    const Rising up(inner, theta_[j], n), down(1 - inner, theta_[j], n);
    const double sown = log_sown(theta_[j]);
    for (std::size_t x = 0; x <= n; ++x) {
      const double log_l = up.log[x] + down.log[n - x] - sown;
      const double first = up.first[x] - down.first[n - x];
      const double second = up.second[x] + down.second[n - x];
      double* term = &made.terms[x * width + j];
      term[0] = log_l;
      term[padded()] = first * slope;
      term[2 * padded()] = -(second * slope * slope + first * bend);
      const double log_chance = log_l + log_choose[x];
      if (log_chance > -40)
        made.information[j] += std::exp(log_chance) * first * slope * first * slope;
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
  int from = 0;
  for (std::size_t i = 0; i < guide_size; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(guide_size);
    while (made.cumulative[static_cast<std::size_t>(from)] <= share * sum) ++from;
    made.guide.push_back(from);
  }
  return made;
}

StandClaim PlannedVerdict::judge(std::span<const int> first, std::span<const int> second) const {
  if (first.size() != second.size())
    throw std::domain_error("a trial to suppose needs as many sowings of both treatments");
  return PlannedTrials(*this, static_cast<int>(first.size())).judge(first, second);
}

StandClaim PlannedVerdict::draw(Random& random, int trays) const {
  return PlannedTrials(*this, trays).draw(random);
}

PlannedTrials::PlannedTrials(const PlannedVerdict& plan, int trays) : plan_(plan), trays_(trays) {
  if (trays < 2) throw std::domain_error("a trial to suppose needs two sowings each or more");
  t_needed_ = student_t_quantile_upper(t_level / 2, 2 * trays_ - 2);
  first_.resize(static_cast<std::size_t>(trays));
  second_.resize(static_cast<std::size_t>(trays));
  nodes_.resize(plan.theta_.size());
  peaks_.resize(nodes_.size());
  sums_.resize(plan.padded() * terms_each);
  other_sums_.resize(sums_.size());
}

StandClaim PlannedTrials::draw(Random& random) {
  // By inversion, from where the guide says (Chen & Asau 1974).
  const auto drawn = [&](const PlannedVerdict::Arm& arm) {
    const double u = random.unit();
    auto x = arm.guide[static_cast<std::size_t>(u * static_cast<double>(arm.guide.size()))];
    for (const double share = u * arm.cumulative.back();
         x < static_cast<int>(plan_.seeds_) &&
         arm.cumulative[static_cast<std::size_t>(x)] <= share;)
      ++x;
    return x;
  };
  for (std::size_t i = 0; i < first_.size(); ++i) {
    first_[i] = drawn(plan_.first_);
    second_[i] = drawn(plan_.second_);
  }
  return judge(first_, second_);
}

// The cheap parts of the rule first: most trials are settled by them.
StandClaim PlannedTrials::judge(std::span<const int> first, std::span<const int> second) {
  const auto one = moments(first), two = moments(second);
  const double squares = one.squares + two.squares, apart = (one.sum - two.sum) / trays_;
  const bool flat = squares <= 1e-9;
  const double df = 2 * trays_ - 2;
  const bool claim =
      flat ? apart != 0 : std::fabs(apart) >= t_needed_ * std::sqrt(squares / df * 2 / trays_);
  const bool near = std::fabs(apart) < plan_.d_ * static_cast<double>(plan_.seeds_);
  if (!claim && !near) return StandClaim::none;
  expand(first, second);
  bool more = false;
  if (claim && sure_of_a_sign(more) && (!flat || factor_claims(first, second, plan_.seeds_)))
    return more ? StandClaim::more : StandClaim::fewer;
  return near && surely_within() ? StandClaim::neither : StandClaim::none;
}

// Parabolas about the truth, rho by rho.
void PlannedTrials::expand(std::span<const int> first, std::span<const int> second) {
  const std::size_t padded = plan_.padded();
  add_rows(plan_.first_.terms.data(), sums_.size(), first, sums_.data());
  add_rows(plan_.second_.terms.data(), sums_.size(), second, other_sums_.data());
  const auto peak = [&](const PlannedVerdict::Arm& arm, const double* sum, std::size_t j) {
    // Where the parabola turns up (far from the truth) a fifth of the curvature expected stands.
    const double curvature = std::max(sum[2 * padded + j], 0.2 * trays_ * arm.information[j]);
    const double step = sum[padded + j] / curvature;
    return Peak{arm.angle + step, curvature, sum[j] + sum[padded + j] * step / 2};
  };
  double top = -HUGE_VAL;
  for (std::size_t j = 0; j < nodes_.size(); ++j) {
    peaks_[j] = {peak(plan_.first_, sums_.data(), j), peak(plan_.second_, other_sums_.data(), j)};
    nodes_[j].weight = plan_.log_weight_[j] + peaks_[j][0].height + peaks_[j][1].height;
    top = std::max(top, nodes_[j].weight);
  }
  mass_ = 0;
  likeliest_ = 0;
  for (std::size_t j = 0; j < nodes_.size(); ++j) {
    const double below = nodes_[j].weight - top;
    nodes_[j].weight = 0;
    if (below < -15) continue;
    const auto& [one, two] = peaks_[j];
    const double phi1 = std::clamp(one.angle, 0.0, pi / 2);
    const double phi2 = std::clamp(two.angle, 0.0, pi / 2);
    const double both = one.curvature * two.curvature;
    nodes_[j] = {std::exp(below) / std::sqrt(both), phi1 - phi2, phi1 + phi2,
                 std::sqrt((one.curvature + two.curvature) / both)};
    mass_ += nodes_[j].weight;
    if (nodes_[j].weight > nodes_[likeliest_].weight) likeliest_ = j;
  }
}

template <class Visit>
void PlannedTrials::each_node(Visit&& visit) const {
  for (std::size_t j = likeliest_; j < nodes_.size(); ++j)
    if (nodes_[j].weight > 0 && !visit(nodes_[j])) return;
  for (std::size_t j = likeliest_; j-- > 0;)
    if (nodes_[j].weight > 0 && !visit(nodes_[j])) return;
}

// Both chances are given up as soon as the nodes seen have used what either may miss, and granted
// as soon as those not seen could not use it up.
bool PlannedTrials::sure_of_a_sign(bool& more) const {
  const NormalTail& tail = lower_tail();
  const double bearable = (1 - sure_of_sign) * mass_;
  double not_more = 0, not_fewer = 0, unseen = mass_;
  each_node([&](const Node& node) {
    const double fewer = tail(-node.apart / node.sd);
    not_more += node.weight * fewer;
    not_fewer += node.weight * (1 - fewer);
    unseen -= node.weight;
    return std::min(not_more, not_fewer) <= bearable &&
           std::min(not_more, not_fewer) + unseen > bearable;
  });
  more = not_more <= bearable;
  return more || not_fewer <= bearable;
}

bool PlannedTrials::surely_within() const {
  const double bearable = (1 - sure_within) * mass_;
  double missed = 0, unseen = mass_;
  each_node([&](const Node& node) {
    missed += node.weight * outside(node);
    unseen -= node.weight;
    return missed <= bearable && missed + unseen > bearable;
  });
  return missed <= bearable;
}

double PlannedTrials::outside(const Node& node) const {
  const NormalTail& tail = lower_tail();
  const double apart = std::fabs(node.apart);
  double sum = 0;
  // p1 - p2 = sin(phi1 + phi2) sin(phi1 - phi2): the sum by three Gauss nodes.
  for (const double step : {-1.0, 0.0, 1.0}) {
    const double sine = std::fabs(std::sin(node.together + step * std::numbers::sqrt3 * node.sd));
    if (sine <= plan_.d_) continue;  // then no angles make a difference of d
    const double reach = std::asin(plan_.d_ / sine), far = (reach + apart) / node.sd;
    sum += (step == 0 ? 2.0 / 3 : 1.0 / 6) * (tail((apart - reach) / node.sd) + tail(-far));
  }
  return sum;
}

}  // namespace plumule::stats
