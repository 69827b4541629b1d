// The verdict on one treatment held against another: every ground on which something is claimed or
// withheld, which ground goes first, and the code it gives; of the stand, of the days, and of both
// together. Here and nowhere else: whoever reckons brings figures, whoever prints puts a ground
// into words. By what figures a claim is borne out is stats/trials/claims.hpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "stats/inference/interval.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::analysis {

// What is known of the two beside their figures.
struct Circumstances {
  bool open = true;                // the trial
  bool after_looking = false;      // closed, changed or picked with its counts in sight
  bool several_trials = false;     // taken together
  bool jars_partly_known = false;  // of some sowings of a treatment only
  bool looked_to_the_end = true;   // or come to rest (last_looks.hpp)
};

enum class StandCode { more, fewer, neither, too_small, open };

// In the order in which they go: the first that holds is the ground.
enum class StandGround {
  trial_open,            // nothing is said before it closes
  jars_partly_known,     // which units there are is not known
  no_sowings,            // a treatment has no final stand
  confounded,            // no block, or no seed lot, has both
  several_trials,        // trials differ in more than the treatment
  single_unit,           // a treatment has a single unit
  not_settled,           // nobody looked near the end
  t_within_blocks,       // claimed by the t within blocks
  lots_within_blocks,    // likewise, by lots drawn anew: nothing varies within blocks
  within_worth,          // neither: the 90 % interval within blocks lies within the worth
  bayes_factor,          // claimed after looking, by the factor alone
  posterior_and_t,       // claimed by both
  posterior_and_factor,  // likewise: no unit varies, so there is no t
  posterior_within,      // neither, by the posterior
  nothing_decided        // too little was seen
};

struct StandVerdict {
  StandCode code = StandCode::open;
  StandGround ground = StandGround::trial_open;
};

// `confounded`: no block, or no seed lot, has both.
StandVerdict stand_verdict(const Circumstances& circumstances, bool confounded,
                           const stats::StandEvidence& evidence);

enum class SpeedCode { sooner, sooner_after_sowing, later, neither, too_small, open };

// In the order in which they go, as above.
enum class SpeedGround {
  trial_open,         // nothing is said before it closes
  jars_partly_known,  // which units there are is not known
  nothing_up,         // a treatment has nothing up at all
  confounded,         // no block, or no seed lot, has both
  several_trials,     // trials differ in more than the treatment
  no_variance,        // the units of each treatment came up in exactly the same days
  single_unit,        // a treatment has one unit with anything up
  t_on_sowings,       // claimed by the t on the units' mean days
  uneven_looks,       // the mean days would decide, but rest on long gaps that may explain it
  not_settled,        // alike so far, but nobody looked near the end
  within_one_day,     // neither: the 90 % interval lies within one day either way
  nothing_decided     // too little was seen
};

struct SpeedVerdict {
  SpeedCode code = SpeedCode::open;
  SpeedGround ground = SpeedGround::trial_open;
  // False where a claim holds counted from sowing but not from wetting (sooner_after_sowing, and a
  // `later` against seed that was wetted before).
  bool both_clocks = true;
  bool less_than_a_day = false;  // a claim that is sure, and too small to be worth having
};

// `sown` and, where seed was wetted before sowing, `wetted`: by either clock. `sooner` needs both;
// `later` is said of sowing.
SpeedVerdict speed_verdict(const Circumstances& circumstances, bool confounded,
                           const stats::SpeedEvidence& sown,
                           const std::optional<stats::SpeedEvidence>& wetted);

bool claims(const StandVerdict& verdict);  // more or fewer
bool claims(const SpeedVerdict& verdict);  // sooner or later, if only after sowing

// What both come to.
enum class Joint {
  open,
  several_trials,     // no verdict, for the trials are several
  jars_partly_known,  // no verdict, for jars are recorded of some only
  claimed,            // something, on the stand or the days
  neither,            // both are
  nothing_claimed     // and not both `neither`
};
Joint joint(const StandVerdict& stand, const SpeedVerdict& speed);

// A claim on the stand (more, fewer), then one on speed (sooner, sooner-after-sowing, later),
// joined by '+'; with no claim `neither` if both are, else `too-small`; `open` while the trial is.
std::string joint_code(const StandVerdict& stand, const SpeedVerdict& speed);

// How codes and grounds are called where they are printed: never renamed.
std::string_view word(StandCode code);
std::string_view word(StandGround ground);
std::string_view word(SpeedCode code);
std::string_view word(SpeedGround ground);

// More trays would tell: the verdict lacks nothing but figures.
bool more_would_tell(const StandVerdict& verdict);

// Where the drawing of lots anew, or the range, seems to say another thing than the verdict.
enum class Discord {
  none,
  lots_cannot_tell,  // a claim, and this layout can give no p of 0.05 or less
  lots_would_not,    // a claim that drawing lots anew would not make
  range_clear,       // no claim though the range is clear of 0, for units differ among themselves
  lots_would         // no claim though drawing lots anew would make one
};
Discord discord(const StandVerdict& verdict, const stats::StandEvidence& evidence,
                const std::optional<stats::Interval>& range,
                const std::optional<stats::Randomisation>& lots);

// Whether a claim stands beside the others made with it, by its p over all of them (Holm); one
// without a p has nothing to fall by.
bool stands_beside_others(const std::optional<double>& holm_p);

// A difference worth having so small that no trial a grower can sow would show it.
bool out_of_reach(double worth);

}  // namespace plumule::analysis
