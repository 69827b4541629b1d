#include "stats/emerging/sowing_outlook.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr double quarter_turn = std::numbers::pi / 2;
constexpr std::size_t level_steps = 128;
constexpr double longest_wait = 3 * 365;
constexpr double stand_too_unlikely = 0.2, likely_in_time = 0.5;

// Even steps of a scale on which F is dense near 0, where many seeds tell little steps apart, and
// near 1.
double level(std::size_t step) {
  const double x = static_cast<double>(step) / level_steps;
  const double sine = std::sin(quarter_turn * x * std::sqrt(x));
  return step == level_steps ? 1 : sine * sine;
}

// Where F lies: between `step` and the next, by `share`; both tails by a table of square roots.
struct LevelPlace {
  std::size_t step;
  double share;
};
class LevelPlaces {
 public:
  LevelPlaces() {
    for (std::size_t i = 0; i <= fine; ++i) {
      const double root = std::min(static_cast<double>(i) / fine, 1.0);
      low_[i] = place_of(std::asin(root));
      high_[i] = place_of(quarter_turn - std::asin(root));
    }
  }
  LevelPlace at(double f) const {
    const bool low = f < 0.5;
    const double root = std::sqrt(std::clamp(low ? f : 1 - f, 0.0, 1.0)) * fine;
    const auto i = std::min(static_cast<std::size_t>(root), fine - 1);
    const auto& table = low ? low_ : high_;
    const double place = table[i] + (root - static_cast<double>(i)) * (table[i + 1] - table[i]);
    const auto step = std::min(static_cast<std::size_t>(place), level_steps - 1);
    return {step, std::min(place - static_cast<double>(step), 1.0)};
  }

 private:
  static constexpr std::size_t fine = 1024;
  double place_of(double angle) const {
    const double share = angle / quarter_turn;
    return std::cbrt(share * share) * level_steps;
  }
  std::array<double, fine + 1> low_{}, high_{};
};
const LevelPlaces& level_places() {
  static const LevelPlaces made;
  return made;
}

}  // namespace

SowingOutlook::SowingOutlook(const TimeCourse& course, std::vector<ClockPath> paths,
                             const StandingShare& share, std::span<const TimeCourse> beside)
    : times_(course, std::move(paths), beside), share_(&share) {
  if (!course.sown) throw std::domain_error("sowing outlook: the number sown is not known");
  up_ = emerged(course);
  never_ = course.never;
  rest_ = *course.sown - up_ - never_;
  last_look_ = last_look(course);
}

std::vector<double> SowingOutlook::weights(std::span<const double> up_by_day) const {
  std::vector<double> made(up_by_day.size());
  double most = -HUGE_VAL;
  for (std::size_t w = 0; w < made.size(); ++w) {
    made[w] = std::log(times_.weight(w));
    if (up_ > 0) made[w] += up_ * (times_.log_came(w) - std::log(up_by_day[w]));
    most = std::max(most, made[w]);
  }
  for (double& weight : made) weight = std::exp(weight - most);
  return made;
}

SowingOutlook::Levels SowingOutlook::levels_at(double day) const {
  std::vector<double> up(times_.size());
  times_.up_by(day, up);
  const auto weight = weights(up);
  const LevelPlaces& places = level_places();
  Levels made{};
  for (std::size_t w = 0; w < up.size(); ++w) {
    const auto [step, share] = places.at(up[w]);
    made[step] += weight[w] * (1 - share);
    made[step + 1] += weight[w] * share;
  }
  return made;
}

SowingOutlook::ByChance SowingOutlook::by_chance(const Levels& weights) const {
  // log F and log(1 - pi F), the same for all sowings.
  struct Logs {
    Levels f{};
    std::array<Levels, StandingShare::cells> rest{};
    Logs() {
      for (std::size_t i = 0; i < levels; ++i) {
        f[i] = std::log(level(i));
        for (std::size_t j = 0; j < rest.size(); ++j)
          rest[j][i] = std::log1p(-StandingShare::chance_at(j) * level(i));
      }
    }
  };
  static const Logs logs;
  std::vector<std::size_t> used;
  for (std::size_t i = 0; i < levels; ++i)
    if (weights[i] > 0 && (i > 0 || up_ == 0)) used.push_back(i);
  ByChance made;
  if (used.empty()) return made;

  std::array<double, StandingShare::cells> fixed{};
  double most = -HUGE_VAL;
  const auto of_up = [&](std::size_t i) { return up_ > 0 ? up_ * logs.f[i] : 0; };
  for (std::size_t j = 0; j < fixed.size(); ++j) {
    fixed[j] = (up_ > 0 ? up_ * std::log(StandingShare::chance_at(j)) : 0) +
               never_ * logs.rest[j][level_steps];
    for (const std::size_t i : used)
      most = std::max(most, fixed[j] + of_up(i) + rest_ * logs.rest[j][i]);
  }
  const double highest = of_up(used.back());
  double all_up = 0;
  for (const std::size_t i : used) all_up += weights[i] * std::exp(of_up(i) - highest);
  for (std::size_t j = 0; j < fixed.size(); ++j) {
    if (!std::isfinite(fixed[j])) continue;
    for (const std::size_t i : used)
      made.all[j] += weights[i] * std::exp(fixed[j] + of_up(i) + rest_ * logs.rest[j][i] - most);
    made.done[j] = all_up * std::exp(fixed[j] + highest + rest_ * logs.rest[j][level_steps] - most);
  }
  return made;
}

std::array<double, StandingShare::alive_points> SowingOutlook::likelihood() const {
  const ByChance by = by_chance(levels_at(last_look_));
  std::array<double, StandingShare::alive_points> made{};
  double most = 0;
  for (std::size_t i = 0; i < made.size(); ++i) {
    for (std::size_t j = 0; j < by.all.size(); ++j) made[i] += share_->share(i, j) * by.all[j];
    most = std::max(most, made[i]);
  }
  for (double& value : made) value = most > 0 ? value / most : 1;  // impossible: says nothing
  return made;
}

double SowingOutlook::likelihood_at(std::span<const double, StandingShare::alive_points> likelihood,
                                    double alive) {
  const auto [point, share] = alive_place(alive);
  return (1 - share) * likelihood[point] + share * likelihood[point + 1];
}

double SowingOutlook::any_more(std::span<const Alive> alive, double day) const {
  if (!(rest_ > 0)) return 0;
  const ByChance by = by_chance(levels_at(std::max(day, last_look_)));
  const auto shares = share_->shares(alive);
  double all = 0, done = 0;
  for (std::size_t j = 0; j < shares.size(); ++j) {
    all += shares[j] * by.all[j];
    done += shares[j] * by.done[j];
  }
  return all > 0 ? std::max(0.0, 1 - done / all) : 0;
}

// The distribution of how many more come up by the day, 0 to those not up: a mixture of binomials
// over the chance that one of the rest comes, which is gathered on even steps of the arcsine scale.
std::vector<double> SowingOutlook::more_by(std::span<const Alive> alive, double by_day) const {
  std::vector<double> now(times_.size()), then(times_.size(), 1.0);
  times_.up_by(last_look_, now);
  if (std::isfinite(by_day)) times_.up_by(std::max(by_day, last_look_), then);
  const LevelPlaces& places = level_places();
  // Ways that lie close together on both days are taken as one.
  struct Alike {
    double weight = 0, now = 0, then = 0;
  };
  std::map<std::pair<std::size_t, std::size_t>, Alike> kinds;
  const auto weight = weights(now);
  for (std::size_t w = 0; w < now.size(); ++w) {
    if (!(weight[w] > 0)) continue;
    auto& kind = kinds[{places.at(now[w]).step, places.at(then[w]).step / 2}];
    kind.weight += weight[w];
    kind.now += weight[w] * now[w];
    kind.then += weight[w] * then[w];
  }

  struct Chance {
    double log_weight, comes;
  };
  std::vector<Chance> ways;
  double best = -HUGE_VAL;
  const auto shares = share_->shares(alive);
  for (std::size_t j = up_ > 0 ? 1 : 0; j < shares.size(); ++j) {
    if (!(shares[j] > 0)) continue;
    const double pi = StandingShare::chance_at(j);
    const double fixed =
        std::log(shares[j]) + (up_ > 0 ? up_ * std::log(pi) : 0) + never_ * std::log1p(-pi);
    for (const auto& [_, kind] : kinds) {
      const double f = kind.now / kind.weight, g = kind.then / kind.weight;
      if (up_ > 0 && !(f > 0)) continue;
      ways.push_back({fixed + std::log(kind.weight) + (up_ > 0 ? up_ * std::log(f) : 0) +
                          rest_ * std::log1p(-pi * f),
                      pi * std::max(0.0, g - f) / (1 - pi * f)});
      best = std::max(best, ways.back().log_weight);
    }
  }

  constexpr std::size_t steps = 200;
  std::array<double, steps + 1> gathered{};
  double total = 0;
  for (const auto& [log_weight, comes] : ways) {
    const double relative = std::exp(log_weight - best);
    const double place = std::asin(std::sqrt(std::min(comes, 1.0))) / quarter_turn * steps;
    const auto step = std::min(static_cast<std::size_t>(place), steps - 1);
    const double share = place - static_cast<double>(step);
    gathered[step] += relative * (1 - share);
    gathered[step + 1] += relative * share;
    total += relative;
  }

  const double rest = std::round(rest_);
  std::vector<double> chances(static_cast<std::size_t>(rest) + 1, 0.0);
  for (std::size_t s = 0; s <= steps; ++s) {
    if (gathered[s] < 1e-12 * total) continue;
    if (s == 0 || s == steps) {
      chances[s == 0 ? 0 : chances.size() - 1] += gathered[s] / total;
      continue;
    }
    const double sine = std::sin(quarter_turn * static_cast<double>(s) / steps);
    const double log_yes = 2 * std::log(sine), log_no = std::log1p(-sine * sine);
    for (std::size_t k = 0; k < chances.size(); ++k) {
      const double more = static_cast<double>(k);
      chances[k] +=
          gathered[s] / total *
          std::exp(std::lgamma(rest + 1) - std::lgamma(more + 1) - std::lgamma(rest - more + 1) +
                   more * log_yes + (rest - more) * log_no);
    }
  }
  return chances;
}

StillToCome SowingOutlook::still_to_come(std::span<const Alive> alive, double by_day) const {
  const auto chances = more_by(alive, by_day);
  StillToCome made;
  double below = 0;
  bool lower = false, upper = false;
  for (std::size_t k = 0; k < chances.size(); ++k) {
    made.mean += static_cast<double>(k) * chances[k];
    below += chances[k];
    if (!lower && below >= 0.05) {
      made.lower = static_cast<double>(k);
      lower = true;
    }
    if (!upper && below >= 0.95 - 1e-12) {
      made.upper = static_cast<double>(k);
      upper = true;
    }
  }
  return made;
}

double SowingOutlook::stand(std::span<const Alive> alive, double wanted, double by_day) const {
  const double missing = wanted - up_;
  if (missing <= 0) return 1;
  const auto chances = more_by(alive, by_day);
  double made = 0;
  for (auto k = static_cast<std::size_t>(std::ceil(missing - 1e-9)); k < chances.size(); ++k)
    made += chances[k];
  return made;
}

std::optional<int> SowingOutlook::give_up_day(std::span<const Alive> alive,
                                              double never_before) const {
  const int first = static_cast<int>(std::ceil(std::max(last_look_, never_before) - 1e-9));
  const auto over = [&](int day) { return any_more(alive, day) < hardly_any; };
  if (over(first)) return first;
  // The longer nothing comes the less is to come: doubling, then halving.
  int low = first, step = 1;
  while (!over(low + step)) {
    low += step;
    step *= 2;
    if (low > longest_wait) return std::nullopt;
  }
  int high = low + step;
  while (high - low > 1) {
    const int middle = (low + high) / 2;
    (over(middle) ? high : low) = middle;
  }
  return high;
}

std::vector<Alive> alive_after(
    std::span<const Alive> prior,
    std::span<const std::array<double, StandingShare::alive_points>> likelihoods) {
  std::vector<Alive> made(prior.begin(), prior.end());
  double total = 0;
  for (auto& [fraction, weight] : made) {
    for (const auto& likelihood : likelihoods)
      weight *= SowingOutlook::likelihood_at(likelihood, fraction);
    total += weight;
  }
  if (total > 0)
    for (auto& alive : made) alive.weight /= total;
  return made;
}

double in_time(std::vector<ClockPath> paths, double by_day, double share) {
  const ComingTimes times(TimeCourse{}, std::move(paths));
  std::vector<double> up(times.size());
  times.up_by(by_day, up);
  double made = 0;
  for (std::size_t w = 0; w < up.size(); ++w)
    if (up[w] >= share) made += times.weight(w);
  return made;
}

bool sow_again(double chance_of_stand, double new_one_in_time) {
  return chance_of_stand < stand_too_unlikely && new_one_in_time >= likely_in_time;
}

}  // namespace plumule::stats
