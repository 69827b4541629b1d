// Labels are never read here: that is what makes the closing rules honest.
#include "stats/trials/trial_closing.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "stats/times/quiet.hpp"

namespace plumule::stats {
namespace {

constexpr int days_without_plan = 28;

// Last day, up to `day`, on which any sowing showed something new.
std::optional<int> last_emergence(std::span<const FollowedSowing> sowings, int day) {
  std::optional<int> last;
  for (const auto& s : sowings) {
    std::int64_t before = 0;
    for (const auto& count : s.counts) {
      if (count.day > day) break;
      if (count.up > before && (!last || count.day > *last)) last = count.day;
      before = count.up;
    }
  }
  return last;
}

// First look at which every sowing has something up and none has had anything new for long enough.
std::optional<int> quiet_day(std::span<const FollowedSowing> sowings, int until) {
  for (const int look : trial_looks(sowings, until)) {
    const bool all_up = std::all_of(sowings.begin(), sowings.end(),
                                    [look](const auto& s) { return up_by(s, look) > 0; });
    if (!all_up) continue;
    const auto last = last_emergence(sowings, look);
    if (last && come_to_rest(*last, look)) return look;
  }
  return std::nullopt;
}

// Whether every sowing not ended has been looked at on that day or later.
bool all_counted_on(std::span<const FollowedSowing> sowings, int day) {
  return std::all_of(sowings.begin(), sowings.end(), [day](const auto& s) {
    return (s.ended_on && *s.ended_on <= day) || (!s.counts.empty() && s.counts.back().day >= day);
  });
}

}  // namespace

TrialClosing trial_closing(std::span<const FollowedSowing> sowings, int today,
                           std::optional<int> planned_last_day, std::optional<int> give_up_day) {
  if (sowings.empty())
    throw std::domain_error("a trial without sowings is neither open nor closed");
  check_followed(sowings);
  TrialClosing made;
  int last_sown = 0;
  std::optional<int> first_count;
  for (const auto& s : sowings) {
    last_sown = std::max(last_sown, s.sown_on);
    if (!s.counts.empty())
      first_count = std::min(first_count.value_or(s.counts.front().day), s.counts.front().day);
  }
  made.added_after_looking = first_count && last_sown > *first_count;
  if (planned_last_day) {
    made.planned_last_day = *planned_last_day;
    made.source = PlannedDay::planned;
  } else if (give_up_day) {
    made.planned_last_day = *give_up_day;
    made.source = PlannedDay::give_up;
  } else {
    made.planned_last_day = last_sown + days_without_plan;
  }
  if (made.planned_last_day < last_sown)
    throw std::domain_error("the planned last day lies before the last sowing");
  made.quiet_since = last_emergence(sowings, today);
  if (made.quiet_since)
    made.quiet_days_needed = static_cast<int>(std::ceil(quiet_days_needed(*made.quiet_since)));

  const int planned = made.planned_last_day;
  const auto close = [&made](TrialState state, ClosedBy by, int day) {
    made.state = state;
    made.by = by;
    made.closed_on = day;
  };
  const auto quiet = quiet_day(sowings, std::min(today, planned));
  int ended = 0;
  const bool all_ended = std::all_of(sowings.begin(), sowings.end(), [&](const auto& s) {
    if (s.ended_on) ended = std::max(ended, *s.ended_on);
    return s.ended_on && *s.ended_on <= today;
  });
  if (quiet && *quiet < planned) {
    close(TrialState::closed_as_planned, ClosedBy::quiet, *quiet);
  } else if (all_ended && ended < planned) {
    close(TrialState::closed_after_looking, ClosedBy::hand, ended);
  } else if (today > planned || (today == planned && all_counted_on(sowings, planned))) {
    close(TrialState::closed_as_planned, ClosedBy::planned_day, planned);
  }
  return made;
}

}  // namespace plumule::stats
