#include "analysis/trial/last_day.hpp"

#include "analysis/trial/closing.hpp"

namespace plumule::analysis {

LastDay last_day(std::span<const records::History> histories, const records::Trial& trial,
                 records::Date today) {
  const TrialState state = trial_state(histories, trial, today);
  LastDay last;
  last.day = state.planned_last_day;
  last.moved = state.moved;
  last.last_look = state.last_look;
  last.closed_on = state.closed_on;
  const bool plan =
      state.moved ? state.moved->fixed.has_value() : trial.closes_on || !trial.inspections.empty();
  last.planned = plan && !state.plan_too_early;
  last.too_early = state.plan_too_early;
  if (!last.planned)
    last.basis = state.give_up_basis.empty()
                     ? "four weeks after the last sowing, its crop not being known"
                     : state.give_up_basis;
  return last;
}

}  // namespace plumule::analysis
