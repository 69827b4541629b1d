// Every way of timing is one point of a grid (clock's path, log m, log spread, family). Where many
// came up the likelihood is narrow: the grid then draws in on it until it is wide enough.
#include "stats/emerging/coming_times.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr double usual_spread = 0.25, spread_sd = 0.5, published_scale = 0.35, published_df = 4;
constexpr double straggling = 0.05, log_straggling_time = 0.6931471805599453;
constexpr double logistic_scale = 0.5513288954217921;     // sqrt(3) / pi: variance 1
constexpr double widest_median = 9, widest_spread = 2.6;  // in their own scales
constexpr double negligible = 16;                         // nats under the best
constexpr double least = 1e-300;                          // a chance that is not quite 0

// The lower tails of the normal and of the logistic of variance 1, by linear interpolation at
// 1/128: within 1e-5 of themselves.
class Tails {
 public:
  Tails() {
    for (std::size_t i = 0; i < points; ++i) {
      const double x = static_cast<double>(i) / per_unit - reach;
      normal_[i] = normal_lower(x);
      logistic_[i] = 1 / (1 + std::exp(-x / logistic_scale));
    }
  }
  double at(double x, bool logistic) const {
    const double place = (x + reach) * per_unit;
    if (!(place > 0)) return 0;
    if (place >= points - 1) return 1;
    const auto i = static_cast<std::size_t>(place);
    const auto& table = logistic ? logistic_ : normal_;
    return table[i] + (place - static_cast<double>(i)) * (table[i + 1] - table[i]);
  }

 private:
  static constexpr double reach = 9, per_unit = 128;
  static constexpr std::size_t points = 2 * 9 * 128 + 1;
  std::array<double, points> normal_, logistic_;
};
const Tails& tails() {
  static const Tails made;
  return made;
}

double share_up(double log_clock, double log_m, double spread, bool logistic, bool stragglers) {
  const double x = (log_clock - log_m) / spread;
  const double most = tails().at(x, logistic);
  if (!stragglers) return most;
  return (1 - straggling) * most +
         straggling * tails().at(x - log_straggling_time / spread, logistic);
}

double log_t(double t) { return -0.5 * (published_df + 1) * std::log1p(t * t / published_df); }

// The looks between which something came up, as places in a list of days.
struct Came {
  std::size_t from, to;
  double count;
};

// The mean logarithm of the clock when they came; 0 where none did or the clock had not moved.
double middle(std::span<const Came> came, std::span<const double> log_clock) {
  double sum = 0, count = 0;
  for (const Came& c : came) {
    if (!std::isfinite(log_clock[c.to])) continue;
    const double from = std::max(log_clock[c.from], log_clock[c.to] - 1);
    sum += c.count * (from + log_clock[c.to]) / 2;
    count += c.count;
  }
  return count > 0 ? sum / count : 0;
}

// How much less likely `count` of `sown` are than at best, where F is `all` and up to all of the
// seed is alive: 0, or the log of the binomial's ratio.
double at_best(double count, double sown, double all) {
  const double share = count / sown;
  if (all >= share) return 0;
  const double rest = sown - count;
  return count * std::log(all / share) +
         (rest > 0 ? rest * (std::log1p(-all) - std::log1p(-share)) : 0);
}

// What came between the looks of a course, whose days are added to the list.
std::vector<Came> came_of(const TimeCourse& course, std::vector<double>& days) {
  std::vector<Came> made;
  for (const Span& span : spans_of(course)) {
    if (!std::isfinite(span.right)) continue;
    if (made.empty() || days.back() != span.left) days.push_back(span.left);
    days.push_back(span.right);
    made.push_back({days.size() - 2, days.size() - 1, span.count});
  }
  return made;
}

// Good seed laid beside it: Beta(18, 2) of it alive, in shares of equal weight.
struct Beside {
  Beside(const TimeCourse& course, std::vector<double>& days) : came(came_of(course, days)) {
    if (!course.sown) throw std::domain_error("seed laid beside: the number sown is not known");
    up = emerged(course);
    rest = *course.sown - up - course.never;
    dead = course.never;
    days.push_back(last_look(course));
    last = days.size() - 1;
  }
  template <class Share>
  double log_likelihood(const Share& share) const {
    static const auto good = [] {
      std::array<double, 8> made{};
      for (std::size_t i = 0; i < made.size(); ++i)
        made[i] = beta_quantile((static_cast<double>(i) + 0.5) / made.size(), 18, 2);
      return made;
    }();
    double sum = 0, log_times = 0;
    const double now = share(last);
    for (const double alive : good)
      sum += std::pow(alive, up) * std::pow(1 - alive * now, rest) * std::pow(1 - alive, dead);
    for (const Came& c : came)
      log_times += c.count * std::log(std::max(share(c.to) - share(c.from), least));
    return log_times + std::log(std::max(sum / good.size(), least));
  }

  std::vector<Came> came;
  double up = 0, rest = 0, dead = 0;
  std::size_t last = 0;
};

struct Weighed {
  double log_weight, at_best;
};

struct Box {
  double median_low, median_high, spread_low, spread_high;
};

// The prior of log m given a clock: with the way the unread days may have been already in it where
// nothing is read, so that one grid serves all paths.
class Prior {
 public:
  explicit Prior(std::vector<double> shifts) : shifts_(std::move(shifts)) {}
  double log_density(double log_m) const {
    double sum = 0;
    for (const double shift : shifts_) sum += std::exp(log_t((log_m - shift) / published_scale));
    return std::log(sum / static_cast<double>(shifts_.size()));
  }
  Box box() const {
    const auto [low, high] = std::minmax_element(shifts_.begin(), shifts_.end());
    return {*low - widest_median * published_scale, *high + widest_median * published_scale,
            -widest_spread, widest_spread};
  }

 private:
  std::vector<double> shifts_;
};

}  // namespace

ComingTimes::ComingTimes(const TimeCourse& course, std::vector<ClockPath> paths,
                         std::span<const TimeCourse> beside)
    : paths_(std::move(paths)) {
  std::vector<double> days;
  const std::vector<Came> came = came_of(course, days);
  std::vector<Beside> companions;
  double companions_up = 0;
  for (const auto& other : beside) {
    companions.emplace_back(other, days);
    companions_up += companions.back().up;
  }

  if (!came.empty() && std::none_of(paths_.begin(), paths_.end(), [&](const auto& path) {
        return path.at(days[came.front().to]) > 0;
      }))
    for (auto& path : paths_) path = path.unread();

  // Without readings paths differ by their speed alone: one clock, and the speeds go into log m.
  std::vector<double> shifts{0};
  if (std::none_of(paths_.begin(), paths_.end(), [](const auto& p) { return p.read(); })) {
    shifts.clear();
    for (const auto& path : paths_)
      if (path.at(1) > 0) shifts.push_back(-std::log(path.at(1)));
    if (shifts.empty()) shifts.push_back(0);
    paths_ = {ClockPath(1, 1, {0})};
  }
  const Prior prior(shifts);
  // Where next to nothing came the grid stays wide, so it is finer; of the spread nothing is known.
  const bool wide = emerged(course) + companions_up <= 2;
  const int medians = wide ? 61 : 41, spreads = wide ? 5 : 7;

  std::vector<Weighed> log_weights;
  double count = 0;
  for (const Came& c : came) count += c.count;
  double best = -HUGE_VAL;
  std::vector<double> log_clock(days.size()), clock_before(days.size());
  std::size_t begin = 0;  // of the ways of the path before
  for (std::size_t p = 0; p < paths_.size(); ++p) {
    for (std::size_t i = 0; i < days.size(); ++i) log_clock[i] = std::log(paths_[p].at(days[i]));
    if (p > 0 && log_clock == clock_before) {  // alike until all that is up came
      const double heavier = std::log(paths_[p].weight() / paths_[p - 1].weight());
      const std::size_t end = ways_.size();
      for (std::size_t w = begin; w < end; ++w) {
        ways_.push_back(ways_[w]);
        ways_.back().path = static_cast<int>(p);
        const Weighed& alike = log_weights[w];
        log_weights.push_back({alike.log_weight + heavier, alike.at_best + heavier});
        best = std::max(best, log_weights.back().at_best);
      }
      begin = end;
      continue;
    }
    clock_before = log_clock;
    begin = ways_.size();
    // The log weight of one way, and beside it the best that any share alive could make of it; left
    // off where that is under the bound.
    const auto weigh = [&](Way& way, double log_prior, double bound) {
      const auto share = [&](std::size_t day) {
        return share_up(log_clock[day], way.log_m, way.spread, way.logistic, way.stragglers);
      };
      for (const auto& companion : companions) log_prior += companion.log_likelihood(share);
      if (came.empty()) return Weighed{log_prior, log_prior};
      const double all = std::max(share(came.back().to), least);
      way.log_came = std::log(all);
      double log_weight = log_prior - count * way.log_came;
      const double best_of_any = at_best(count, course.sown.value_or(count), all);
      std::size_t at = days.size();
      double up = 0;
      for (const Came& c : came) {
        const double before = c.from == at ? up : share(c.from);
        up = share(at = c.to);
        log_weight += c.count * std::log(std::max(up - before, least));
        if (log_weight + best_of_any < bound) break;
      }
      return Weighed{log_weight, log_weight + best_of_any};
    };
    Box box = prior.box();
    const double guess =
        middle(came.empty() && !companions.empty() ? companions.front().came : came, log_clock);
    for (int pass = 0;; ++pass) {
      const double median_step = (box.median_high - box.median_low) / (medians - 1);
      const double spread_step = (box.spread_high - box.spread_low) / (spreads - 1);
      const double log_cell = std::log(median_step * spread_step * paths_[p].weight());
      const std::size_t first = ways_.size();
      double here = -HUGE_VAL;
      double bound = -HUGE_VAL;
      // From the likeliest outwards, so that most of the others are soon left off.
      const double guess_step = (guess - box.median_low) / median_step;
      int low = static_cast<int>(std::clamp(guess_step, 0.0, 1.0 * medians));
      int high = low;
      while (high < medians || low > 0) {
        const bool up = low == 0 || (high < medians && high - guess_step < guess_step - low);
        const double log_m = box.median_low + (up ? high++ : --low) * median_step;
        const double log_prior = prior.log_density(log_m) + log_cell;
        for (int j = 0; j < spreads; ++j) {
          const double z = box.spread_low + j * spread_step;
          const double spread = usual_spread * std::exp(spread_sd * z);
          for (int family = 0; family < 4; ++family) {
            Way way{0, static_cast<int>(p), log_m, spread, (family & 1) != 0, (family & 2) != 0};
            const Weighed weighed = weigh(way, log_prior - 0.5 * z * z, bound);
            if (weighed.at_best < bound) continue;
            here = std::max(here, weighed.at_best);
            bound = std::max(bound, here - 2 * negligible);
            ways_.push_back(way);
            log_weights.push_back(weighed);
          }
        }
      }
      // The box of what is not negligible, a step wider each way.
      Box next{box.median_high, box.median_low, box.spread_high, box.spread_low};
      for (std::size_t w = first; w < ways_.size(); ++w) {
        if (log_weights[w].at_best < here - negligible) continue;
        const double z = std::log(ways_[w].spread / usual_spread) / spread_sd;
        next.median_low = std::min(next.median_low, ways_[w].log_m - median_step);
        next.median_high = std::max(next.median_high, ways_[w].log_m + median_step);
        next.spread_low = std::min(next.spread_low, z - spread_step);
        next.spread_high = std::max(next.spread_high, z + spread_step);
      }
      const bool narrow =
          next.median_high - next.median_low < 0.7 * (box.median_high - box.median_low);
      if (!narrow || ways_.size() == first || pass == 4) {
        best = std::max(best, here);
        break;
      }
      ways_.resize(first);
      log_weights.resize(first);
      box = next;
    }
  }

  double most = -HUGE_VAL, total = 0;
  for (const auto& [log_weight, at_best] : log_weights)
    if (at_best >= best - negligible) most = std::max(most, log_weight);
  std::size_t kept = 0;
  for (std::size_t w = 0; w < ways_.size(); ++w) {
    if (log_weights[w].at_best < best - negligible) continue;
    ways_[kept] = ways_[w];
    ways_[kept].weight = std::exp(log_weights[w].log_weight - most);
    total += ways_[kept++].weight;
  }
  ways_.resize(kept);
  for (auto& way : ways_) way.weight /= total;
}

void ComingTimes::up_by(double day, std::span<double> up) const {
  std::vector<double> log_clock;
  for (const auto& path : paths_) log_clock.push_back(std::log(path.at(day)));
  for (std::size_t w = 0; w < ways_.size(); ++w) {
    const Way& way = ways_[w];
    up[w] = share_up(log_clock[static_cast<std::size_t>(way.path)], way.log_m, way.spread,
                     way.logistic, way.stragglers);
  }
}

}  // namespace plumule::stats
