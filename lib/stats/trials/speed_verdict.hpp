// The verdict on speed, as a value: sooner, later, neither, too small to tell, or open.
#pragma once

#include <optional>

#include "stats/times/look_gaps.hpp"
#include "stats/times/speed_comparison.hpp"

namespace plumule::stats {

enum class SpeedCode { sooner, sooner_after_sowing, later, neither, too_small, open };

enum class SpeedGround {
  trial_open,
  t_on_sowings,       // p <= 0.05 on the sowings' mean days
  within_one_day,     // the 90 % interval lies within one day either way
  single_unit,        // a treatment has one unit with anything up
  nothing_up,         // a treatment has nothing up at all
  no_variance,        // the units of each treatment came up in exactly the same days
  confounded,         // no block, or no seed lot, has both: the caller's to find
  jars_partly_known,  // which units there are is not known: likewise the caller's to find
  not_settled,        // alike so far, but nobody looked near the end: likewise
  several_trials,     // trials differ in more than the treatment: likewise
  uneven_looks,       // the mean days would decide, but rest on long gaps that may explain it
  nothing_decided,
};

// One clock: the difference in mean days, and what the gaps allow where the looks were uneven.
struct SpeedEvidence {
  SpeedDifference days;
  std::optional<GapAllowance> gaps;
};

struct SpeedVerdict {
  SpeedCode code = SpeedCode::too_small;
  SpeedGround ground = SpeedGround::nothing_decided;
  // False where a claim holds counted from sowing but not from wetting (sooner_after_sowing, and a
  // `later` against seed that was wetted before).
  bool both_clocks = true;
};

// sooner or later: the t on the sowings' mean days has p <= 0.05; neither: its 90 % interval lies
// within one day either way. Where the looks were uneven the middles of the gaps are wrong for all
// sowings alike and the t does not see it: then the claim, or neither, must hold in what the gaps
// allow as well. `sooner` needs both clocks where seed was wetted before sowing, else it is sooner
// after sowing only; `later` is said of sowing, and both_clocks tells whether of wetting too. Two
// units with anything up in each, or too small to tell.
SpeedVerdict speed_verdict(const SpeedEvidence& sown, const std::optional<SpeedEvidence>& wetted);

}  // namespace plumule::stats
