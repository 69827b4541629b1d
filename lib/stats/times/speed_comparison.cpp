#include "stats/times/speed_comparison.hpp"

#include "stats/inference/t_test.hpp"
#include "stats/times/emergence_indices.hpp"

namespace plumule::stats {
namespace {

using Value = std::optional<double>;

SpeedDifference compare_by(std::span<const TimeCourse> treatment,
                           std::span<const TimeCourse> against,
                           Value (*value_of)(const TimeCourse&), double level) {
  const auto values = [&](std::span<const TimeCourse> courses) {
    std::vector<Value> all;
    all.reserve(courses.size());
    for (const TimeCourse& course : courses) all.push_back(value_of(course));
    return all;
  };
  return compare_values(values(treatment), values(against), {}, {}, level);
}

std::vector<double> present(std::span<const Value> values) {
  std::vector<double> all;
  all.reserve(values.size());
  for (const Value& value : values)
    if (value) all.push_back(*value);
  return all;
}

std::vector<StratumValue> by_source(std::span<const Value> values, std::span<const int> sources) {
  std::vector<StratumValue> all;
  for (std::size_t i = 0; i < values.size(); ++i)
    if (values[i]) all.push_back({*values[i], sources.empty() ? 0 : sources[i]});
  return all;
}

// The values, with nothing told of them yet.
SpeedDifference of_values(std::span<const Value> treatment, std::span<const Value> against,
                          double level) {
  tail_probability(level, Side::both);  // checks the level
  SpeedDifference result;
  result.level = level;
  result.values = present(treatment);
  result.against_values = present(against);
  result.sowings = static_cast<int>(result.values.size());
  result.against = static_cast<int>(result.against_values.size());
  result.left_out = static_cast<int>(treatment.size()) - result.sowings;
  result.left_out_against = static_cast<int>(against.size()) - result.against;
  return result;
}

// Their difference by that t, a function of the level.
template <class Test>
void tell(SpeedDifference& result, Test&& test) {
  const TTest t = test(result.level);
  result.difference = t.difference;
  if (result.sowings < 2 || result.against < 2 || t.status == TStatus::too_few) {
    result.status = SpeedStatus::too_few;
    return;
  }
  if (t.status == TStatus::no_variance) {
    result.status = SpeedStatus::no_variance;
    return;
  }
  result.status = SpeedStatus::compared;
  result.se = t.se;
  result.t = t.t;
  result.df = t.df;
  result.p = t.p;
  result.lower = t.interval.lower;
  result.upper = t.interval.upper;
  const Interval narrow = test(0.90).interval;
  result.lower90 = narrow.lower;
  result.upper90 = narrow.upper;
}

}  // namespace

std::optional<double> mean_days_midway(const TimeCourse& course) {
  check(course);
  const double all = emerged(course);
  if (!(all > 0)) return std::nullopt;
  double sum = 0;
  Look before;
  for (const Look& look : course.looks) {
    sum += (look.total - before.total) * (before.time + look.time) / 2;
    before = look;
  }
  return sum / all;
}

std::optional<double> median_days(const TimeCourse& course) {
  check(course);
  const double half = emerged(course) / 2;
  if (!(half > 0)) return std::nullopt;
  return day_by_which(course.looks, half);
}

SpeedDifference compare_mean_days(std::span<const TimeCourse> treatment,
                                  std::span<const TimeCourse> against, double level) {
  return compare_by(treatment, against, mean_days_midway, level);
}

SpeedDifference compare_t50(std::span<const TimeCourse> treatment,
                            std::span<const TimeCourse> against, double level) {
  return compare_by(treatment, against, median_days, level);
}

SpeedDifference compare_values(std::span<const std::optional<double>> treatment,
                               std::span<const std::optional<double>> against,
                               std::span<const int> sources, std::span<const int> against_sources,
                               double level) {
  auto result = of_values(treatment, against, level);
  if (result.sowings == 0 || result.against == 0) return result;
  const int apart = result.sowings - result.against;
  const auto one = by_source(treatment, sources), other = by_source(against, against_sources);
  result.within_sources = spread_unevenly(one, other);
  result.welch = !result.within_sources && (apart > 1 || apart < -1);
  tell(result, [&](double at) {
    if (result.within_sources) return t_within_strata(one, other, at);
    return result.welch ? welch_t(result.values, result.against_values, at)
                        : pooled_t(result.values, result.against_values, at);
  });
  return result;
}

SpeedDifference compare_within_blocks(std::span<const std::optional<double>> treatment,
                                      std::span<const std::optional<double>> against,
                                      std::span<const int> blocks,
                                      std::span<const int> against_blocks, double level) {
  auto result = of_values(treatment, against, level);
  result.within_blocks = true;
  if (result.sowings == 0 || result.against == 0) return result;
  const auto one = by_source(treatment, blocks), other = by_source(against, against_blocks);
  tell(result, [&](double at) { return t_within_strata(one, other, at); });
  return result;
}

}  // namespace plumule::stats
