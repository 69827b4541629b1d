#include "analysis/speed_contrast.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace plumule::analysis {

namespace {

using Value = std::optional<double>;
using ValueOf = Value (*)(const stats::TimeCourse&);

using Both = std::array<std::vector<stats::TimeCourse>, 2>;

// A unit's value: the mean of those of its sowings with anything up.
Value unit_value(const TrialLayout& layout, const Unit& unit, ValueOf value_of, Clock clock) {
  double sum = 0;
  int number = 0;
  for (const std::size_t i : unit.sowings) {
    if (layout.sowings[i].stopped) continue;
    const auto course = on_clock(layout.sowings[i].course, clock);
    if (const Value value = value_of(course)) {
      sum += *value;
      ++number;
    }
  }
  if (number == 0) return std::nullopt;
  return sum / number;
}

SpeedFigure figure(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                   ValueOf value_of, Clock clock, std::uint64_t seed) {
  std::vector<Value> first;
  std::vector<Value> second;
  std::vector<int> sources[2];
  std::vector<stats::RandomisedUnit> units;
  const auto both = sources_of_both(layout, treatment, against);
  const bool any = std::find(both.begin(), both.end(), true) != both.end();
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    if (any && !both[static_cast<std::size_t>(unit.source)]) continue;
    const bool treated = unit.treatment == treatment;
    const Value value = unit_value(layout, unit, value_of, clock);
    (treated ? first : second).push_back(value);
    sources[treated ? 0 : 1].push_back(any ? unit.source : 0);
    if (value) units.push_back({unit.code, unit.stratum, treated, *value});
  }
  SpeedFigure result;
  result.difference = stats::compare_values(first, second, sources[0], sources[1]);
  if (!units.empty()) result.randomisation = stats::randomisation_test(units, seed);
  return result;
}

// Those looked at; stopped ones, whose mean days do not count, only where asked for.
Both courses(const TrialLayout& layout, std::size_t treatment, std::size_t against, Clock clock,
             bool stopped_too) {
  Both result;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    for (const std::size_t i : unit.sowings)
      if ((stopped_too || !layout.sowings[i].stopped) &&
          !layout.sowings[i].course.course.looks.empty()) {
        auto& side = result[unit.treatment == treatment ? 0 : 1];
        side.push_back(on_clock(layout.sowings[i].course, clock));
        side.back().unit = static_cast<int>(&unit - layout.units.data());
      }
  }
  return result;
}

// The rank test's p by lots drawn anew as they were drawn: for whole units, within blocks.
void redraw(stats::GroupedRankTest& test, const TrialLayout& layout, const Both& both,
            std::uint64_t seed) {
  if (test.status != stats::RankStatus::compared) return;
  std::map<int, stats::RandomisedUnit> units;
  for (std::size_t i = 0; i < test.sowings.size(); ++i) {
    const bool treated = i < both[0].size();
    const int place = (treated ? both[0][i] : both[1][i - both[0].size()]).unit;
    const Unit& unit = layout.units[static_cast<std::size_t>(place)];
    auto& one = units.try_emplace(place, stats::RandomisedUnit{unit.code, unit.stratum, treated, 0})
                    .first->second;
    one.value += test.sowings[i].excess;
  }
  std::vector<stats::RandomisedUnit> list;
  for (const auto& [place, unit] : units) list.push_back(unit);
  const auto lots = stats::randomisation_test(list, seed);
  test.p_sowings = lots.p;
  test.smallest_p = lots.smallest_p;
  test.arrangements = lots.arrangements;
  test.exact = lots.exact;
}

int nothing_up(const TrialLayout& layout, std::size_t treatment, std::size_t against) {
  int number = 0;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    bool looked = false;
    bool up = false;
    for (const std::size_t i : unit.sowings) {
      looked = looked || layout.sowings[i].course.looked;
      up = up || layout.sowings[i].course.up > 0;
    }
    if (looked && !up) ++number;
  }
  return number;
}

std::vector<JointFit> joint_fits(const Both& both, std::optional<stats::TimeFamily> family) {
  std::vector<JointFit> fits;
  for (const bool fraction : {false, true})
    for (const bool spread : {false, true}) {
      JointFit fit;
      fit.shared_spread = spread;
      fit.shared_fraction = fraction;
      stats::TreatmentOptions options;
      options.shared_spread = spread;
      options.shared_fraction = fraction;
      if (family) options.family = *family;
      fit.model = family ? stats::fit_treatments(both, options)
                         : stats::fit_likeliest_treatments(both, options);
      if (fit.model.status != stats::ModelStatus::fitted && !fits.empty()) continue;
      family = fit.model.family;
      fit.ratio = stats::time_ratio(fit.model, 0, 1);
      fits.push_back(std::move(fit));
    }
  return fits;
}

// Whether some block, seed lot and trial has both; else their days can't be told from those.
bool comparable(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                const SpeedFigure& days) {
  const auto both = sources_of_both(layout, treatment, against);
  return std::find(both.begin(), both.end(), true) != both.end() &&
         (!days.randomisation || days.randomisation->status == stats::RandomisationStatus::ok);
}

void judge(SpeedContrast& speed, const Both& wetted) {
  const stats::SpeedEvidence sown{speed.mean_days.difference, speed.gaps};
  std::optional<stats::SpeedEvidence> soaked;
  if (speed.mean_days_wetted) {
    soaked.emplace();
    soaked->days = speed.mean_days_wetted->difference;
    if (speed.looks.uneven) soaked->gaps = stats::allow_for_gaps(wetted[0], wetted[1]);
  }
  const auto verdict = stats::speed_verdict(sown, soaked);
  speed.code = verdict.code;
  speed.ground = verdict.ground;
  speed.both_clocks = verdict.both_clocks;
}

}  // namespace

SpeedContrast speed_contrast(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                             const SpeedQuestion& question) {
  SpeedContrast result;
  const auto seed = question.seed;
  result.mean_days =
      figure(layout, treatment, against, stats::mean_days_midway, Clock::sowing, seed);
  result.t50 = figure(layout, treatment, against, stats::median_days, Clock::sowing, seed);
  result.nothing_up = nothing_up(layout, treatment, against);
  bool wetted = false;
  for (const auto& unit : layout.units)
    if (unit.treatment == treatment || unit.treatment == against)
      for (const std::size_t i : unit.sowings)
        wetted = wetted || layout.sowings[i].course.wetted_before > 0;
  if (wetted)
    result.mean_days_wetted =
        figure(layout, treatment, against, stats::mean_days_midway, Clock::wetting, seed);
  if (question.open) {
    result.code = SpeedCode::open;
    result.ground = SpeedGround::trial_open;
    return result;
  }
  const Both counted = courses(layout, treatment, against, Clock::sowing, false);
  result.looks = stats::look_gaps(counted[0], counted[1]);
  if (result.looks.uneven) result.gaps = stats::allow_for_gaps(counted[0], counted[1]);
  judge(result, courses(layout, treatment, against, Clock::wetting, false));
  if (result.ground != SpeedGround::nothing_up &&
      !comparable(layout, treatment, against, result.mean_days)) {
    result.code = SpeedCode::too_small;
    result.ground = SpeedGround::confounded;
  }
  if (result.gaps) result.time_ratio = result.gaps->ratio;
  if (!question.detail) return result;
  const Both both = courses(layout, treatment, against, Clock::sowing, true);
  if (both[0].empty() || both[1].empty()) return result;
  result.log_rank =
      stats::grouped_rank_test(both[0], both[1], stats::RankScores::sun, question.seed);
  result.wilcoxon =
      stats::grouped_rank_test(both[0], both[1], stats::RankScores::wilcoxon, question.seed);
  result.score = stats::grouped_score_test(both[0], both[1]);
  redraw(*result.log_rank, layout, both, question.seed);
  redraw(*result.wilcoxon, layout, both, question.seed);
  result.joint = joint_fits(both, question.family);
  if (!result.gaps) result.time_ratio = result.joint.front().ratio;
  return result;
}

}  // namespace plumule::analysis
