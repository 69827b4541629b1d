// How long nothing new must have come before no more is waited for: the one rule of trials,
// sowings and germination tests.
#pragma once

#include <algorithm>

namespace plumule::stats {

inline constexpr double fewest_quiet_days = 5;

// max(5, half the days to the last emergence); days from sowing, or from the trial's start.
inline double quiet_days_needed(double last_emergence) {
  return std::max(fewest_quiet_days, last_emergence / 2);
}

// Whether looking has gone on for that long since the last emergence. Never where nothing came
// (last_emergence 0).
inline bool come_to_rest(double last_emergence, double last_look) {
  return last_emergence > 0 && last_look - last_emergence >= quiet_days_needed(last_emergence);
}

}  // namespace plumule::stats
