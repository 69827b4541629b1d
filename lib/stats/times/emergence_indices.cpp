#include "stats/times/emergence_indices.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace plumule::stats {
namespace {

constexpr std::size_t longest_inserted = 200;  // looks

EmergenceIndices from_looks(std::span<const Look> looks, std::optional<double> sown) {
  EmergenceIndices x;
  const double all = looks.empty() ? 0 : looks.back().total;
  if (!(all > 0)) return x;

  double sum_times = 0;
  double bits = 0;
  double pairs = 0;
  double speed = 0;
  double peak = 0;
  double total_of_totals = 0;
  double before = 0;
  for (const Look& look : looks) {
    const double fresh = look.total - before;
    before = look.total;
    total_of_totals += look.total;
    if (look.time > 0 && look.total / look.time > peak) {
      peak = look.total / look.time;
      x.peak_day = look.time;
    }
    if (!(fresh > 0)) continue;
    if (!x.first) x.first = look.time;
    x.last = look.time;
    sum_times += fresh * look.time;
    speed += fresh / look.time;
    bits -= fresh / all * std::log2(fresh / all);
    pairs += fresh * (fresh - 1);
  }
  const double mean = sum_times / all;
  x.spread = *x.last - *x.first;
  x.mean = mean;
  x.velocity = 100 * all / sum_times;
  x.speed = speed;
  x.uncertainty_bits = std::max(0.0, bits);
  if (all > 1) {
    double squares = 0;
    before = 0;
    for (const Look& look : looks) {
      squares += (look.total - before) * (look.time - mean) * (look.time - mean);
      before = look.total;
    }
    x.variance = squares / (all - 1);
    x.cv = 100 * std::sqrt(*x.variance) / mean;
    x.synchrony = pairs / (all * (all - 1));
  }
  x.t50_coolbear = day_by_which(looks, (all + 1) / 2);
  x.t50_farooq = day_by_which(looks, all / 2);
  if (sown) {
    x.peak_value = 100 / *sown * peak;
    x.mean_daily = 100 * all / *sown / looks.back().time;
    x.germination_value = *x.peak_value * *x.mean_daily;
    x.timson_sum = 100 / *sown * total_of_totals;
  } else {
    x.peak_day.reset();
  }
  return x;
}

}  // namespace

std::optional<double> day_by_which(std::span<const Look> looks, double total) {
  Look before;
  for (const Look& look : looks) {
    if (look.total == total) return look.time;
    if (look.total > total)
      return before.time +
             (total - before.total) * (look.time - before.time) / (look.total - before.total);
    before = look;
  }
  return std::nullopt;
}

EmergenceIndices emergence_indices(const TimeCourse& course) {
  check(course);
  return from_looks(course.looks, course.sown);
}

EmergenceIndices emergence_indices(std::span<const TimeCourse> courses) {
  std::vector<Look> looks;  // total: units new at that time, then all so far
  std::optional<double> sown = 0;
  for (const TimeCourse& course : courses) {
    check(course);
    // Both in order of time, and mostly at the same times; a long list is sorted once instead.
    double before = 0;
    std::size_t at = 0;
    for (const Look& look : course.looks) {
      const double fresh = look.total - before;
      before = look.total;
      if (looks.size() >= longest_inserted) {
        looks.push_back({look.time, fresh});
        continue;
      }
      while (at < looks.size() && looks[at].time < look.time) ++at;
      if (at < looks.size() && looks[at].time == look.time)
        looks[at].total += fresh;
      else
        looks.insert(looks.begin() + static_cast<std::ptrdiff_t>(at), {look.time, fresh});
    }
    if (sown && course.sown)
      *sown += *course.sown;
    else
      sown.reset();
  }
  if (!std::ranges::is_sorted(looks, {}, &Look::time)) std::ranges::sort(looks, {}, &Look::time);
  double total = 0;
  std::size_t kept = 0;
  for (const Look look : looks) {
    total += look.total;
    if (kept == 0 || looks[kept - 1].time != look.time) looks[kept++].time = look.time;
    looks[kept - 1].total = total;
  }
  looks.resize(kept);
  return from_looks(looks, sown);
}

}  // namespace plumule::stats
