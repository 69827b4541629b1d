// The rules by which figures bear out a claim: on the stand more, fewer or neither; on the days
// sooner, later or neither. Their error rates were simulated before anyone looked
// (tests/calibration), by these functions. Figures alone: what else may stand in a claim's way, and
// what is then said, is for whoever knows the trial.
#pragma once

#include <optional>

#include "stats/stand/claims.hpp"
#include "stats/times/look_gaps.hpp"
#include "stats/times/speed_comparison.hpp"
#include "stats/trials/stand_evidence.hpp"

namespace plumule::stats {

// What a claim, and `neither`, ask for.
inline constexpr double sure_of_sign = 0.975, sure_within = 0.95, t_level = 0.05,
                        neither_level = 0.90, worth_days = 1;

// P(that sign) >= 0.975, whichever it is.
bool sure_of_a_sign(const PosteriorChances& chances);

// Of all units, closed as planned: more or fewer if the posterior is sure of that sign and the t
// has p <= 0.05 (where no unit varies: Bayes factor >= 20 instead of the t); else neither if
// P(|difference| < d) >= 0.95.
// After looking: more or fewer only at a Bayes factor >= 20 (the sign is the posterior's); neither
// by the same posterior rule.
// Within sources: either claim needs besides that the t within sources has p <= 0.05 and that sign;
// neither is not given.
// Within blocks: more or fewer if the t within blocks has p <= 0.05; where the blocks' differences
// do not vary at all, if drawing lots anew does; else neither if the 90 % interval of that
// difference lies within d either way (two one-sided tests: Schuirmann 1987).
// A treatment of one unit, or of none: no claim.
StandClaim stand_claim(const StandEvidence& evidence);

// One clock: the difference in mean days, and what the gaps allow where the looks were uneven.
struct SpeedEvidence {
  SpeedDifference days;
  std::optional<GapAllowance> gaps;
};

enum class SpeedClaim { sooner, later, neither, none };

// By the mean days alone: sooner or later if their t has p <= 0.05; neither if its 90 % interval
// lies within one day either way. Two units with anything up in each, or no claim.
SpeedClaim claim_of_days(const SpeedDifference& days);

// That claim, where the gaps allow it as well: where the looks were uneven the middles of the gaps
// are wrong for all sowings alike, and the t does not see it.
SpeedClaim speed_claim(const SpeedEvidence& evidence);

}  // namespace plumule::stats
