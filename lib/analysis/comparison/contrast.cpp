#include "analysis/comparison/contrast.hpp"

#include "analysis/trial/last_looks.hpp"

namespace plumule::analysis {

namespace {

// The day until which looking on could have changed the verdict; none where the trial came to rest,
// or is open. Ended by hand it would have gone on to its planned day.
std::optional<records::Date> last_day(const TrialState& state) {
  if (state.closing.by == stats::ClosedBy::planned_day) return state.closed_on;
  if (state.closing.by == stats::ClosedBy::hand) return state.planned_last_day;
  return std::nullopt;
}

bool one_batch(const TrialLayout& layout, std::size_t treatment) {
  int units = 0;
  bool batch = false;
  for (const auto& unit : layout.units)
    if (unit.treatment == treatment) {
      ++units;
      batch = unit.batch && unit.sowings.size() > 1;
    }
  return units == 1 && batch;
}

bool still_rising(const TrialLayout& layout, std::size_t treatment) {
  int sowings = 0, rising = 0;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment) continue;
    for (const std::size_t i : unit.sowings) {
      const auto& looks = layout.sowings[i].course.course.looks;
      if (!layout.sowings[i].in_stand || looks.empty()) continue;
      const double before = looks.size() > 1 ? looks[looks.size() - 2].total : 0;
      ++sowings;
      rising += looks.back().total > before ? 1 : 0;
    }
  }
  return sowings > 0 && 2 * rising > sowings;
}

// One with a final stand, or, where there is no stand, one with anything up.
bool one_to_go_by(int in_stand, int with_days) {
  return in_stand == 1 || (in_stand == 0 && with_days == 1);
}

}  // namespace

Contrast contrast(const TrialLayout& layout, const StandModels& models,
                  std::span<const records::History> histories, const ContrastQuestion& question,
                  std::size_t treatment, std::size_t against) {
  Contrast result;
  result.treatment = layout.treatments[treatment];
  result.against = layout.treatments[against];
  result.one_batch = one_batch(layout, treatment);
  result.one_batch_against = one_batch(layout, against);
  if (!layout.several_trials)
    if (const auto day = last_day(question.state))
      result.last_look = looked_no_further(layout, treatment, against, *day);

  auto& known = result.circumstances;
  known.open = question.state.open();
  known.after_looking = question.after_looking;
  known.several_trials = layout.several_trials;
  known.jars_partly_known = layout.jars[treatment].partly() || layout.jars[against].partly();
  known.looked_to_the_end = !result.last_look;

  result.stand = stand_contrast(layout, models, treatment, against, question.stand);
  result.speed = speed_contrast(layout, treatment, against, question.speed);

  const auto& days = result.speed.mean_days.difference;
  result.one_unit = one_to_go_by(result.stand.units, days.sowings);
  result.one_unit_against = one_to_go_by(result.stand.units_against, days.against);
  result.still_rising = still_rising(layout, treatment);
  result.still_rising_against = still_rising(layout, against);
  if (known.open || question.evidence)
    result.evidence =
        evidence_so_far(layout, histories, question.state, treatment, against, question.stand.seed);
  return result;
}

}  // namespace plumule::analysis
