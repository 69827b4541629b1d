// Whether a trial is open, closed as planned or closed after looking: the one definition, by rules
// that do not see which sowing had which treatment.
#pragma once

#include <optional>
#include <span>

#include "stats/trials/followed_sowing.hpp"

namespace plumule::stats {

enum class PlannedDay {
  planned,    // a last day was fixed before the first count
  give_up,    // the crop's give-up day, fixed at sowing
  four_weeks  // neither: 28 days after the last sowing
};

enum class TrialState { open, closed_as_planned, closed_after_looking };

enum class ClosedBy {
  nothing,      // still open
  planned_day,  // its last planned day is over
  quiet,        // up in every sowing and nothing new for long enough
  hand          // every sowing was ended before either
};

struct TrialClosing {
  TrialState state = TrialState::open;
  ClosedBy by = ClosedBy::nothing;
  int planned_last_day = 0;  // D, on the trial's clock
  PlannedDay source = PlannedDay::four_weeks;
  std::optional<int> closed_on;  // the day it closed
  int quiet_days_needed = 0;  // max(5, half the days to the last emergence, rounded up); 0 if none
  std::optional<int> quiet_since;    // last day on which something new was seen
  bool added_after_looking = false;  // some sowing was sown after the trial's first count
  // Whether a claim on the stand must rest on the Bayes factor.
  bool after_looking() const {
    return state == TrialState::closed_after_looking || added_after_looking;
  }
};

// `today` is on the trial's clock. D is `planned_last_day`, else `give_up_day`, else the last
// sowing's day + 28. Closed as planned once D is over (today > D), on D itself as soon as every
// sowing not ended has a count of that day, or from
// the first look at which every sowing has something up and no sowing has had anything new for
// max(5, half the days from its trial's start to the last emergence) days, the quiet shown by a
// count of every sowing not ended. Ended by hand: every sowing ended before either came about.
// A planned day or give-up day before the last sowing's is refused with std::domain_error, as are
// no sowings at all and what check_followed refuses. Labels (`treated`) are never read.
TrialClosing trial_closing(std::span<const FollowedSowing> sowings, int today,
                           std::optional<int> planned_last_day, std::optional<int> give_up_day);

}  // namespace plumule::stats
