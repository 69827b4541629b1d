// What may be claimed of the stands: more, fewer or neither, of each difference and of all those
// shown together.
#pragma once

#include <span>
#include <vector>

#include "stats/stand/contrast.hpp"

namespace plumule::stats {

enum class StandClaim { more, fewer, neither, none };

// What a claim asks for after looking: a Bayes factor.
inline constexpr double factor_needed = 20;

// Whether anyone may have looked at the treatments before the trial was closed, or sowings added.
enum class Looking { as_planned, after_looking };

enum class ClaimGround {
  decided,         // by the model: more, fewer or neither
  not_told_apart,  // no stratum holds both: nothing is claimed
  single_unit,     // there is one unit of a treatment in all that hold both: likewise
  weak_evidence,   // after looking: the model claims it, at a Bayes factor under 20
  too_small
};

struct JudgedContrast {
  StandClaim claim = StandClaim::none;
  ClaimGround ground = ClaimGround::too_small;
  double claim_p = 1;   // StandContrast::tail(), by Holm over the differences that can be judged
  double within_p = 1;  // 1 - p_within, likewise
};

// In the order given. `more` or `fewer` where claim_p <= 0.05 and the estimate has that sign; else
// `neither` where within_p <= 0.05, its d being that of the contrast. Each kind holds over all the
// differences together: any false `more` or `fewer` among them, and any false `neither`, has the
// rate of a single one (Holm 1979). After looking `more` and `fewer` need besides a Bayes factor of
// 20; where that alone is wanting the difference is `too small`, never `neither`.
std::vector<JudgedContrast> claim_together(std::span<const StandContrast> contrasts,
                                           Looking looking = Looking::as_planned);

}  // namespace plumule::stats
