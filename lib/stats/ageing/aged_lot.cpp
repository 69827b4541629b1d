// The joint posterior on a grid. Tests are arms that share rho; each is looked up at its own p,
// which the cell's probit, the test's age and sigma give.
#include "stats/ageing/aged_lot.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/root.hpp"
#include "stats/trays/live_nodes.hpp"

namespace plumule::stats {
namespace {

constexpr double half_circle = std::numbers::pi / 2;
constexpr double harvest_mean = 1.4, harvest_sd = 0.5;  // probits
constexpr double farthest = 200 * days_in_year;
// log sigma from -3 to 3 standard deviations: the trapezoid of so fine a step is exact but for
// what lies beyond.
constexpr double sigma_reach = 3, sigma_step = 0.25;
constexpr std::size_t most_points = 120;
constexpr double indistinct = 1.0 / 2000;  // from none or all

// Fine enough that the narrowest posterior, of sd 1 / (2 sqrt n) in this scale, is seven cells
// wide.
std::size_t cells_for(double seeds) {
  return static_cast<std::size_t>(std::clamp(24 * std::sqrt(seeds), 100.0, 4000.0));
}

double angle_of_probit(double z) {
  return z < 0 ? std::asin(std::sqrt(normal_lower(z))) : std::acos(std::sqrt(normal_upper(z)));
}

double probit_of_angle(double angle) {
  const double sine = std::sin(angle), cosine = std::cos(angle);
  return angle < half_circle / 2 ? normal_quantile(sine * sine) : -normal_quantile(cosine * cosine);
}

// Nodes of rho are laid for 1e-8; half of them, equally spaced as before, are enough for 1e-3.
std::vector<std::size_t> every_other(std::size_t nodes) {
  std::vector<std::size_t> kept;
  for (std::size_t r = 0; r < nodes; r += 2) kept.push_back(r);
  return kept;
}

// What shares one factor f: the sowings of a day in one kind of ground.
struct Arm {
  double day;
  std::vector<FactorNode> factors;
  TrayLikelihood likelihood;
};

std::vector<Arm> arms_of(std::span<const AgedTest> tests) {
  std::map<std::pair<double, Ground>, std::vector<TrayCount>> together;
  for (const auto& test : tests) together[{test.day, test.ground}].push_back(test.count);
  std::vector<Arm> arms;
  for (const auto& [where, counts] : together)
    arms.push_back({where.first, field_factor(where.second), TrayLikelihood(counts)});
  return arms;
}

// The arm's p and 1 - p in every cell, for one sigma.
struct Shares {
  std::vector<double> p, q;
};

// Of cells of those probits, that many probits before.
Shares shares_at(std::span<const double> middles, double before) {
  Shares shares;
  shares.p.reserve(middles.size());
  shares.q.reserve(middles.size());
  for (const double middle : middles) {
    shares.p.push_back(normal_lower(middle + before));
    shares.q.push_back(normal_upper(middle + before));
  }
  return shares;
}

// The arm's likelihood over its reference at one node of rho, in every cell.
class ArmAt {
 public:
  ArmAt(const Arm& arm, const TrayLikelihood::Ready& ready, std::size_t node)
      : arm_(arm), ready_(ready), node_(node) {}

  void add_logs(const Shares& shares, std::span<double> logs) {
    const std::size_t cells = shares.p.size();
    sum_.assign(cells, 0);
    height_.resize(cells);
    up_.resize(cells);
    down_.resize(cells);
    for (const auto& [factor, weight] : arm_.factors) {
      for (std::size_t c = 0; c < cells; ++c) {
        up_[c] = factor * shares.p[c];
        down_[c] = shares.q[c] + (1 - factor) * shares.p[c];
      }
      arm_.likelihood.relative(ready_, node_, up_, down_, height_);
      for (std::size_t c = 0; c < cells; ++c) sum_[c] += weight * height_[c];
    }
    const auto& at = ready_.at[node_];
    for (std::size_t c = 0; c < cells; ++c)
      // So far from what was counted that it is nothing beside the reference: by its logarithm, at
      // the first factor, as more would not tell.
      logs[c] += sum_[c] > 0 ? std::log(sum_[c])
                             : arm_.likelihood.log_at(shares.p[c] * arm_.factors.front().factor,
                                                      1 - shares.p[c] * arm_.factors.front().factor,
                                                      at.theta) -
                                   at.log_reference;
  }

 private:
  const Arm& arm_;
  const TrayLikelihood::Ready& ready_;
  std::size_t node_;
  std::vector<double> sum_, height_, up_, down_;
};

void check_rate(const AgeingRate& rate) {
  if (!(rate.days > 0) || !(rate.log_sd > 0) || !std::isfinite(rate.days * rate.log_sd))
    throw std::domain_error("a rate of ageing needs days and a spread above 0");
}

}  // namespace

AgedLot::AgedLot(double reference_day, const AgeingRate& rate, std::size_t cells)
    : reference_day_(reference_day), middles_(cells) {
  check_rate(rate);
  double sum = 0;
  for (double u = -sigma_reach; u <= sigma_reach; u += sigma_step) {
    sigmas_.push_back({rate.days * std::exp(rate.log_sd * u), std::exp(-0.5 * u * u)});
    sum += sigmas_.back().weight;
  }
  for (auto& sigma : sigmas_) sigma.weight /= sum;
  for (std::size_t c = 0; c < cells; ++c)
    middles_[c] =
        probit_of_angle((static_cast<double>(c) + 0.5) * half_circle / static_cast<double>(cells));
}

AgedLot AgedLot::untested(double harvest_day, const AgeingRate& rate, const RhoPrior& prior) {
  AgedLot lot(harvest_day, rate, cells_for(1));
  const std::size_t cells = lot.middles_.size();
  std::vector<double> mass(cells);
  double below = 0;
  for (std::size_t c = 0; c < cells; ++c) {
    const double edge =
        c + 1 == cells ? 1
                       : normal_lower((probit_of_angle(static_cast<double>(c + 1) * half_circle /
                                                       static_cast<double>(cells)) -
                                       harvest_mean) /
                                      harvest_sd);
    mass[c] = edge - below;
    below = edge;
  }
  const LiveNodes live = find_live_nodes(prior, {});
  const auto kept = every_other(live.nodes.size());
  double sum = 0;
  for (const auto r : kept) sum += live.weights[r];
  for (const auto r : kept) {
    lot.rhos_.push_back(live.nodes[r].rho);
    for (const auto& sigma : lot.sigmas_)
      for (const double one : mass)
        lot.joint_.push_back(live.weights[r] / sum * sigma.weight * one);
  }
  lot.sum_up();
  return lot;
}

AgedLot AgedLot::tested(std::span<const AgedTest> tests, const AgeingRate& rate,
                        const RhoPrior& prior) {
  if (tests.empty()) throw std::domain_error("a tested lot needs a test");
  double newest = tests.front().day, seeds = 0;
  for (const auto& test : tests) {
    if (!std::isfinite(test.day)) throw std::domain_error("a test needs its day");
    check_trays(std::span(&test.count, 1));
    newest = std::max(newest, test.day);
    seeds += static_cast<double>(test.count.sown);
  }
  AgedLot lot(newest, rate, cells_for(seeds));
  lot.all_zero_ = std::ranges::all_of(tests, [](const auto& test) { return test.count.up == 0; });
  lot.all_full_ =
      std::ranges::all_of(tests, [](const auto& test) { return test.count.up == test.count.sown; });
  lot.learn(tests, prior);
  lot.sum_up();
  return lot;
}

void AgedLot::learn(std::span<const AgedTest> tests, const RhoPrior& prior) {
  const auto arms = arms_of(tests);
  std::vector<const TrayLikelihood*> likelihoods;
  likelihoods.reserve(arms.size());
  for (const auto& arm : arms) likelihoods.push_back(&arm.likelihood);
  const LiveNodes live = find_live_nodes(prior, likelihoods);
  const auto kept = every_other(live.nodes.size());
  for (const auto r : kept) rhos_.push_back(live.nodes[r].rho);
  const std::size_t cells = middles_.size(), sigmas = sigmas_.size();
  // Of the reference day: sigma changes nothing there.
  std::vector<double> newest(rhos_.size() * cells);
  for (std::size_t r = 0; r < rhos_.size(); ++r)
    std::fill_n(&newest[r * cells], cells, std::log(live.weights[kept[r]]));
  const Shares now = shares_at(middles_, 0);
  for (std::size_t a = 0; a < arms.size(); ++a)
    for (std::size_t r = 0; r < rhos_.size() && arms[a].day == reference_day_; ++r)
      ArmAt(arms[a], live.arms[a], kept[r])
          .add_logs(now, std::span(newest).subspan(r * cells, cells));
  joint_.resize(rhos_.size() * sigmas * cells);
  for (std::size_t k = 0; k < sigmas; ++k)
    for (std::size_t r = 0; r < rhos_.size(); ++r)
      std::copy_n(&newest[r * cells], cells, &at(r, k, 0));
  bool older = false;
  for (std::size_t a = 0; a < arms.size(); ++a) {
    if (arms[a].day == reference_day_) continue;
    older = true;
    std::vector<Shares> then;
    for (const auto& sigma : sigmas_)
      then.push_back(shares_at(middles_, (reference_day_ - arms[a].day) / sigma.days));
    for (std::size_t r = 0; r < rhos_.size(); ++r) {
      ArmAt arm(arms[a], live.arms[a], kept[r]);
      for (std::size_t k = 0; k < sigmas; ++k)
        arm.add_logs(then[k], std::span(&at(r, k, 0), cells));
    }
  }
  const double most = *std::max_element(joint_.begin(), joint_.end());
  if (!std::isfinite(most)) throw std::domain_error("no one lot could give these tests");
  double sum = 0;
  for (std::size_t r = 0; r < rhos_.size(); ++r)
    for (std::size_t k = 0; k < sigmas; ++k)
      for (std::size_t c = 0; c < cells; ++c) {
        // Without older tests every sigma has the first one's likelihood.
        if (older || k == 0)
          at(r, k, c) = std::exp(at(r, k, c) - most);
        else
          at(r, k, c) = at(r, 0, c);
      }
  for (std::size_t r = 0; r < rhos_.size(); ++r)
    for (std::size_t k = 0; k < sigmas; ++k)
      for (std::size_t c = 0; c < cells; ++c) sum += at(r, k, c) *= sigmas_[k].weight;
  for (double& mass : joint_) mass /= sum;
}

void AgedLot::sum_up() {
  const std::size_t cells = middles_.size();
  below_.assign(sigmas_.size() * (cells + 1), 0);
  for (std::size_t k = 0; k < sigmas_.size(); ++k) {
    double* const below = &below_[k * (cells + 1)];
    for (std::size_t c = 0; c < cells; ++c) {
      double mass = 0;
      for (std::size_t r = 0; r < rhos_.size(); ++r) mass += at(r, k, c);
      below[c + 1] = below[c] + mass;
    }
    sigmas_[k].weight = below[cells];
  }
}

double AgedLot::chance_at_least(double share, double day) const {
  if (share <= 0) return 1;
  if (share > 1) return 0;
  const std::size_t cells = middles_.size();
  const double z = normal_quantile(share), age = day - reference_day_;
  double chance = 0;
  for (std::size_t k = 0; k < sigmas_.size(); ++k) {
    const double* const below = &below_[k * (cells + 1)];
    const double place =
        angle_of_probit(z + age / sigmas_[k].days) / half_circle * static_cast<double>(cells);
    const auto cell = std::min(static_cast<std::size_t>(place), cells - 1);
    const double part = place - static_cast<double>(cell);
    chance += below[cells] - (below[cell] + part * (below[cell + 1] - below[cell]));
  }
  return std::clamp(chance, 0.0, 1.0);
}

double AgedLot::quantile(double q, double day) const {
  if (!(q >= 0 && q <= 1)) throw std::domain_error("a share of a posterior lies in 0 to 1");
  const double angle = find_root(
      [&](double at) {
        const double sine = std::sin(at);
        return 1 - chance_at_least(sine * sine, day) - q;
      },
      0, half_circle);
  return std::sin(angle) * std::sin(angle);
}

double AgedLot::mean(double day) const {
  double mean = 0;
  for (const auto& point : points(day)) mean += point.weight * point.p;
  return mean;
}

Interval AgedLot::interval(double level, double day) const {
  if (!(level > 0 && level < 1)) throw std::domain_error("a level lies between 0 and 1");
  Interval made;
  made.method = method::tray_aware;
  made.level = level;
  made.lower = quantile((1 - level) / 2, day);
  if (all_zero_ || made.lower < indistinct) made.lower = 0;
  made.upper = quantile((1 + level) / 2, day);
  if (all_full_ || made.upper > 1 - indistinct) made.upper = 1;
  return made;
}

std::optional<double> AgedLot::falls_below(double share, double q) const {
  if (!(share > 0 && share < 1) || !(q > 0 && q < 1))
    throw std::domain_error("a share to fall below, and its chance, lie between 0 and 1");
  const auto past = [&](double days) {
    return 1 - chance_at_least(share, reference_day_ + days) - q;
  };
  if (past(farthest) < 0) return std::nullopt;
  return reference_day_ + find_root(past, -farthest, farthest);
}

double AgedLot::days_to_lose_a_probit() const {
  double below = 0;
  for (std::size_t k = 0; k < sigmas_.size(); ++k) {
    const double next = below + sigmas_[k].weight;
    if (next < 0.5) {
      below = next;
      continue;
    }
    const double part = (0.5 - below) / sigmas_[k].weight - 0.5;
    const std::size_t other = part < 0 ? (k > 0 ? k - 1 : k) : std::min(k + 1, sigmas_.size() - 1);
    return sigmas_[k].days * std::pow(sigmas_[other].days / sigmas_[k].days, std::fabs(part));
  }
  return sigmas_.back().days;
}

std::vector<LotPoint> AgedLot::points(double day) const {
  const std::size_t cells = middles_.size(), rhos = rhos_.size(), sigmas = sigmas_.size();
  const double age = day - reference_day_;
  std::vector<double> mass(most_points * rhos, 0), bin_mass(most_points, 0), moment(most_points, 0);
  for (std::size_t k = 0; k < sigmas; ++k)
    for (std::size_t c = 0; c < cells; ++c) {
      const double z = middles_[c] - age / sigmas_[k].days;
      const auto bin =
          std::min(static_cast<std::size_t>(angle_of_probit(z) / half_circle * most_points),
                   most_points - 1);
      double sum = 0;
      for (std::size_t r = 0; r < rhos; ++r) {
        const double one = joint_[(r * sigmas + k) * cells + c];
        mass[bin * rhos + r] += one;
        sum += one;
      }
      bin_mass[bin] += sum;
      moment[bin] += sum * normal_lower(z);
    }
  std::vector<LotPoint> points;
  double kept = 0;
  for (std::size_t bin = 0; bin < most_points; ++bin) {
    if (bin_mass[bin] < 1e-12) continue;
    const double p = std::clamp(moment[bin] / bin_mass[bin], 1e-12, 1 - 1e-12);
    for (std::size_t r = 0; r < rhos; ++r) {
      const double weight = mass[bin * rhos + r];
      if (weight < 1e-13) continue;
      points.push_back({p, rhos_[r], weight});
      kept += weight;
    }
  }
  for (auto& point : points) point.weight /= kept;
  return points;
}

}  // namespace plumule::stats
