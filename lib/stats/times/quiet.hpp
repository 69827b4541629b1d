// How long nothing new must have come before no more is waited for: the one rule of trials,
// sowings and germination tests. And how little, before a verdict may be given without waiting.
#pragma once

#include <algorithm>

#include "stats/times/time_course.hpp"

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

// Whether hardly any more can come: in the last quarter of the days to the last look came no more
// than one in twenty of those up, or one. False where nothing is up.
inline bool nearly_over(const TimeCourse& course) {
  const double late = 0.75 * last_look(course), up = emerged(course);
  double before = 0;
  for (const Look& look : course.looks)
    if (look.time <= late) before = look.total;
  return up > 0 && up - before <= std::max(1.0, up / 20);
}

}  // namespace plumule::stats
