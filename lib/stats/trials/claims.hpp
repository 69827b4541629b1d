// The rules by which differences in days bear out a claim: sooner, later or neither. (Of the stand:
// stats/stand/claims.hpp.) Their error rates were simulated before anyone looked
// (tests/calibration), by these functions. Figures alone: what else may stand in a claim's way, and
// what is then said, is for whoever knows the trial.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/times/look_gaps.hpp"
#include "stats/times/speed_comparison.hpp"

namespace plumule::stats {

// What a claim asks for; a difference in days worth having.
inline constexpr double t_level = 0.05, worth_days = 1;

// One clock: the difference in mean days, and what the gaps allow where the looks were uneven.
struct SpeedEvidence {
  SpeedDifference days;
  std::optional<GapAllowance> gaps;
};

enum class SpeedClaim { sooner, later, neither, none };

struct JudgedSpeed {
  SpeedClaim by_days = SpeedClaim::none;  // by the mean days alone
  // That claim, where the gaps allow it as well: where the looks were uneven the middles of the
  // gaps are wrong for all sowings alike, and the t does not see it.
  SpeedClaim claim = SpeedClaim::none;
  std::optional<double> claim_p;   // of the t, by Holm over the differences that have one
  std::optional<double> within_p;  // likewise, that they differ by a day or more
};

// In the order given. Sooner or later where claim_p <= 0.05; else neither where within_p <= 0.05:
// two one-sided t tests (Schuirmann 1987), of a single difference the same as that its 90 %
// interval lies within one day either way. Each kind holds over all the differences together (Holm
// 1979). Two units with anything up in each, or no claim.
std::vector<JudgedSpeed> claim_days_together(std::span<const SpeedEvidence> differences);

// Of one difference by itself.
JudgedSpeed claim_days(const SpeedEvidence& difference);

}  // namespace plumule::stats
