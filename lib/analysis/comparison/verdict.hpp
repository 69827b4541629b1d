// The verdict on one treatment held against another: every ground on which something is claimed or
// withheld, which ground goes first, and the code it gives; of what came up, of what stands, of the
// days, and of all together. Here and nowhere else: whoever reckons brings figures, whoever prints
// puts a ground into words. By what figures a claim is borne out is stats/stand/claims.hpp and
// stats/trials/claims.hpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "stats/inference/interval.hpp"
#include "stats/stand/claims.hpp"
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
  trial_open,         // nothing is said before it closes
  jars_partly_known,  // which units there are is not known
  no_sowings,         // a treatment has no final stand
  confounded,         // can't be told from what its units lie in (TrialLayout::kept_apart)
  several_trials,     // trials differ in more than the treatment
  single_unit,        // a treatment has a single unit, or one where both are
  not_settled,        // nobody looked near the end
  by_model,           // more, fewer or neither by the model of the stand
  weak_evidence,   // the model claims it, but after looking a Bayes factor of 20 is asked for too
  nothing_decided  // too little was seen
};

struct StandVerdict {
  StandCode code = StandCode::open;
  StandGround ground = StandGround::trial_open;
};

// `parted`: something they lie in sets them apart, or may. `units`, `against`: with a final stand.
// `judged`: what the figures bear out, over all that is shown together; none where there are none.
StandVerdict stand_verdict(const Circumstances& circumstances, bool parted, int units, int against,
                           const std::optional<stats::JudgedContrast>& judged);

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

// `days`: since sowing, and what they bear out, as since wetting where seed was wetted before
// sowing. `sooner` needs both clocks; `later` is said of sowing.
SpeedVerdict speed_verdict(const Circumstances& circumstances, bool confounded,
                           const stats::SpeedDifference& days, const stats::JudgedSpeed& sown,
                           const std::optional<stats::JudgedSpeed>& wetted);

bool claims(const StandVerdict& verdict);  // more or fewer
bool claims(const SpeedVerdict& verdict);  // sooner or later, if only after sowing

// What all come to.
enum class Joint {
  open,
  several_trials,     // no verdict, for the trials are several
  jars_partly_known,  // no verdict, for jars are recorded of some only
  claimed,            // something, on what came up, on what stands or on the days
  neither,            // every one is
  nothing_claimed     // and not every one `neither`
};

// The verdicts on one contrast.
struct Verdicts {
  StandVerdict came_up;
  std::optional<StandVerdict> standing;  // where a loss was recorded
  SpeedVerdict speed;
};
Joint joint(const Verdicts& verdicts);

// A claim on what came up (more, fewer); one on what stands, where that is not the same
// (more-standing, fewer-standing); then one on speed (sooner, sooner-after-sowing, later), joined
// by '+'. With no claim `neither` if all are, else `too-small`; `open` while the trial is.
std::string joint_code(const Verdicts& verdicts);

// What a verdict on the stand went by: the model of the stand, with Holm's over all that is shown
// together, and after looking the Bayes factor: "standardised+holm". Empty where nothing was
// judged.
std::string judged_by(const StandVerdict& verdict, int comparisons, bool after_looking);

// How codes and grounds are called where they are printed: never renamed.
std::string_view word(StandCode code);
std::string_view word(StandGround ground);
std::string_view word(SpeedCode code);
std::string_view word(SpeedGround ground);

// More trays would tell: the verdict lacks nothing but figures.
bool more_would_tell(const StandVerdict& verdict);

// Where the drawing of lots anew, or the range by itself, seems to say another thing than the
// verdict.
enum class Discord {
  none,
  lots_cannot_tell,  // a claim, and this layout can give no p of 0.05 or less
  lots_would_not,    // a claim that drawing lots anew would not make
  beside_others,     // no claim though the range by itself is clear of 0: it is one of several
  lots_would         // no claim though drawing lots anew would make one
};
Discord discord(const StandVerdict& verdict, int comparisons,
                const std::optional<stats::Interval>& range,
                const std::optional<stats::Randomisation>& lots);

// A difference worth having so small that no trial a grower can sow would show it.
bool out_of_reach(double worth);

}  // namespace plumule::analysis
