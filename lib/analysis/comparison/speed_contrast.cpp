#include "analysis/comparison/speed_contrast.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "analysis/comparison/treatment_courses.hpp"

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

// While a trial is open, or what the two lie in parts them, nothing is told of how sure it is.
void keep_the_difference(stats::SpeedDifference& days) {
  days.se = days.t = days.df = days.p = std::nullopt;
  days.lower = days.upper = days.lower90 = days.upper90 = std::nullopt;
}

SpeedFigure figure(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                   ValueOf value_of, Clock clock, const SpeedQuestion& question) {
  std::vector<Value> values[2];
  std::vector<int> strata[2];
  std::vector<stats::RandomisedUnit> units;
  const auto two = strata_of_two(layout, treatment, against, Compared::days);
  const bool within = two.judged_within && !question.open;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    const bool treated = unit.treatment == treatment;
    const Value value = unit_value(layout, unit, value_of, clock);
    if (value) units.push_back({unit.code, unit.stratum, treated, *value});
    // A stratum that lacks one of them tells of itself, not of the treatment.
    if (two.any && !two.both[static_cast<std::size_t>(unit.stratum)]) continue;
    values[treated ? 0 : 1].push_back(value);
    strata[treated ? 0 : 1].push_back(two.any ? unit.stratum : 0);
  }
  SpeedFigure result;
  result.difference =
      within
          ? stats::compare_within_blocks(values[0], values[1], strata[0], strata[1], question.level)
          : stats::compare_values(values[0], values[1], strata[0], strata[1], question.level);
  if (!units.empty())
    result.randomisation = question.open ? stats::randomisation_layout(units)
                                         : stats::randomisation_test(units, question.seed);
  if (question.open) keep_the_difference(result.difference);
  return result;
}

Both courses(const TrialLayout& layout, std::size_t treatment, std::size_t against, Clock clock,
             bool stopped_too) {
  return {treatment_courses(layout, treatment, clock, stopped_too),
          treatment_courses(layout, against, clock, stopped_too)};
}

// Gives the rank test the p of drawing lots anew as they were drawn: for whole units, within
// blocks.
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

// One model of both, with its ratio of times. `lead`: whose family and dispersion it takes.
JointFit joint_fit(const Both& both, bool shared_spread, bool shared_fraction,
                   const SpeedQuestion& question, const stats::TreatmentsModel* lead) {
  JointFit fit;
  if (both[0].empty() || both[1].empty()) return fit;
  fit.shared_spread = shared_spread;
  fit.shared_fraction = shared_fraction;
  stats::TreatmentOptions options;
  options.shared_spread = shared_spread;
  options.shared_fraction = shared_fraction;
  options.level = question.level;
  const auto family = lead ? lead->family : question.family;
  if (family) options.family = *family;
  if (lead) options.dispersion = lead->dispersion;
  fit.model = family ? stats::fit_treatments(both, options)
                     : stats::fit_likeliest_treatments(both, options);
  fit.ratio = stats::time_ratio(fit.model, 0, 1, question.level);
  return fit;
}

std::vector<JointFit> joint_fits(const Both& both, const JointFit& lead,
                                 const SpeedQuestion& question) {
  std::vector<JointFit> fits{lead};
  if (lead.model.status != stats::ModelStatus::fitted) return fits;
  for (const auto& [spread, fraction] : {std::pair{true, false}, {false, true}, {true, true}}) {
    auto fit = joint_fit(both, spread, fraction, question, &lead.model);
    if (fit.model.status == stats::ModelStatus::fitted) fits.push_back(std::move(fit));
  }
  return fits;
}

bool wetted_before(const TrialLayout& layout, std::size_t treatment, std::size_t against) {
  for (const auto& unit : layout.units)
    if (unit.treatment == treatment || unit.treatment == against)
      for (const std::size_t i : unit.sowings)
        if (layout.sowings[i].course.wetted_before > 0) return true;
  return false;
}

// What the gaps allow on that clock, by the model of all that was seen.
stats::GapAllowance gaps_on(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                            Clock clock, const stats::TreatmentsModel& model, double level) {
  const Both counted = courses(layout, treatment, against, clock, false);
  return stats::allow_for_gaps(counted[0], counted[1], model, level);
}

}  // namespace

SpeedContrast speed_contrast(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                             const SpeedQuestion& question) {
  SpeedContrast result;
  const auto figure_of = [&](ValueOf value_of, Clock clock) {
    return figure(layout, treatment, against, value_of, clock, question);
  };
  result.mean_days = figure_of(stats::mean_days_midway, Clock::sowing);
  if (question.t50) result.t50 = figure_of(stats::median_days, Clock::sowing);
  result.nothing_up = nothing_up(layout, treatment, against);
  result.parted_by = parted_by(layout, treatment, against, Compared::days);
  const bool wetted = wetted_before(layout, treatment, against);
  if (wetted) result.mean_days_wetted = figure_of(stats::mean_days_midway, Clock::wetting);
  if (!result.parted_by.empty()) {
    for (auto* one : {&result.mean_days, &result.t50}) keep_the_difference(one->difference);
    if (wetted) keep_the_difference(result.mean_days_wetted->difference);
  }
  if (question.open || !result.parted_by.empty()) return result;
  const Both counted = courses(layout, treatment, against, Clock::sowing, false);
  const Both both = courses(layout, treatment, against, Clock::sowing, true);
  result.looks = stats::look_gaps(counted[0], counted[1]);
  JointFit lead;
  if (result.looks.uneven || question.detail) {
    lead = joint_fit(both, false, false, question, nullptr);
    result.time_ratio = lead.ratio;
  }
  if (result.looks.uneven) {
    result.gaps = gaps_on(layout, treatment, against, Clock::sowing, lead.model, question.level);
    if (wetted) {
      const Both soaked = courses(layout, treatment, against, Clock::wetting, true);
      result.gaps_wetted =
          gaps_on(layout, treatment, against, Clock::wetting,
                  joint_fit(soaked, false, false, question, nullptr).model, question.level);
    }
  }
  if (!question.detail || both[0].empty() || both[1].empty()) return result;
  result.log_rank =
      stats::grouped_rank_test(both[0], both[1], stats::RankScores::sun, question.seed);
  result.wilcoxon =
      stats::grouped_rank_test(both[0], both[1], stats::RankScores::wilcoxon, question.seed);
  result.score = stats::grouped_score_test(both[0], both[1]);
  redraw(*result.log_rank, layout, both, question.seed);
  redraw(*result.wilcoxon, layout, both, question.seed);
  result.joint = joint_fits(both, lead, question);
  return result;
}

}  // namespace plumule::analysis
