// Whether a trial is open, closed as planned or closed after looking, by its own dates.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "records/course.hpp"
#include "records/trial.hpp"
#include "stats/trials/trial_closing.hpp"

namespace plumule::analysis {

struct TrialState {
  stats::TrialClosing closing;  // days on the trial's clock
  records::Date first_day{};    // the trial's first sowing: day 0
  int now = 0;                  // the day asked about, on that clock
  records::Date planned_last_day{};
  std::optional<records::Date> last_look;  // of any of its sowings
  std::optional<records::Date> closed_on;
  std::string give_up_basis;  // where the planned day is the crop's: how it was reckoned
  std::optional<records::LastDayMoved> moved;  // after the first count: the day before it counts
  std::optional<records::SowingsChanged> sowings_changed;  // after the first count
  bool plan_too_early = false;  // the planned day lay before the last sowing and was passed over

  bool open() const { return closing.state == stats::TrialState::open; }
  // Whether a claim on the stand must rest on the Bayes factor.
  bool after_looking() const { return closing.after_looking() || sowings_changed.has_value(); }
};

// The day is `today`, or the latest of the record where that lies after it (ask with as_of for a
// trial as it was on an earlier day). The planned last day is the trial's own, else its last
// planned inspection (as they stood before the first count, where they were changed later), else
// the give-up day of the crop (of several the latest), else four weeks after the last sowing.
// Throws std::domain_error for no sowings.
TrialState trial_state(std::span<const records::History> histories,
                       const std::optional<records::Trial>& trial, records::Date today);

}  // namespace plumule::analysis
