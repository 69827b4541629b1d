// The verdict on the stand, as a value: more, fewer, neither, too small to tell, or open, by rules
// whose error rates were simulated before anyone looked.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_aware_difference.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// One experimental unit: the sowings whose seed was treated together (usually one). Its fraction is
// the unweighted mean of its sowings' fractions; in the posterior its seeds count as one sowing.
struct StandUnit {
  std::vector<TrayCount> sowings;
  int source = 0;  // the seed lot and trial it is of
};

double unit_fraction(const StandUnit& unit);  // throws std::domain_error without sowings or seed
std::vector<double> unit_fractions(std::span<const StandUnit> units);
TrayCount unit_count(const StandUnit& unit);  // all its sowings together

enum class TrialEnd {
  open,               // no verdict yet
  closed_as_planned,  // on its planned day or by the rule that does not see the labels
  after_looking       // closed by hand before that, or sowings were added after the first count
};

enum class StandCode { more, fewer, neither, too_small, open };

// Which rule spoke, so that words can be chosen without repeating the logic.
enum class StandGround {
  trial_open,
  posterior_and_t,       // P >= 0.975 and pooled t with p <= 0.05
  posterior_and_factor,  // no variance within treatments: P >= 0.975 and Bayes factor >= 20
  bayes_factor,          // after looking: Bayes factor >= 20
  posterior_within,      // P(|difference| < d) >= 0.95
  t_within_blocks,       // see block_verdict.hpp: the t within blocks has p <= 0.05
  lots_within_blocks,    // likewise: no variance within blocks, lots drawn anew have p <= 0.05
  within_worth,          // likewise: the 90 % interval within blocks lies within d
  single_unit,           // a treatment has a single unit: never more, fewer or neither
  confounded,            // no block, or no seed lot, has both: the caller's to find
  not_settled,           // nobody looked near the end: likewise
  several_trials,        // trials differ in more than the treatment: likewise
  jars_partly_known,     // which units there are is not known: likewise
  no_sowings,            // a treatment has none
  nothing_decided
};

// What a claim, and `neither`, ask for.
inline constexpr double sure_of_sign = 0.975, sure_within = 0.95, t_level = 0.05,
                        factor_needed = 20;

struct StandVerdict {
  StandCode code = StandCode::too_small;
  StandGround ground = StandGround::nothing_decided;
  // Null while the trial is open or a treatment has no sowings.
  std::optional<double> p_better;      // P(p1 > p2)
  std::optional<double> p_worth;       // P(p1 - p2 > d)
  std::optional<double> p_worth_less;  // P(p2 - p1 > d)
  std::optional<double> p_within;      // P(|p1 - p2| < d)
  std::optional<double> t_p;           // t on unit fractions; null without variance or df
  std::optional<double>
      within_sources;                   // their difference; where treatments lie unevenly over them
  std::optional<double> within_blocks;  // the difference that the verdict went by, if it did
  std::optional<double> bayes_factor;   // computed where a rule needs it
};

// First is asked about, second is what it is held against; d in (0, 1] is the smallest difference
// worth having. Rules:
//   closed as planned, two units or more each: more / fewer if P(that sign) >= 0.975 and the pooled
//   t has p <= 0.05 (where no unit varies: Bayes factor >= 20 instead of the t); else neither if
//   P(|difference| < d) >= 0.95; else too_small.
//   after looking: more / fewer only at a Bayes factor >= 20 (the sign is the posterior's); neither
//   is given by the same posterior rule.
//   one unit in a treatment: too_small, whatever the figures.
//   treatments spread unevenly over sources: the posterior pools what a seed lot does with what the
//   treatment does, so a claim needs besides that the t within sources (in place of the pooled one)
//   has p <= 0.05 and that sign; neither is not given, nor the posterior's chances.
// Throws std::domain_error for counts, prior or d that cannot be.
StandVerdict stand_verdict(std::span<const StandUnit> first, std::span<const StandUnit> second,
                           TrialEnd end, const RhoPrior& prior, double d = 0.10);
// The same from a posterior of these units that is at hand already (unit_count of each, in order).
StandVerdict stand_verdict(std::span<const StandUnit> first, std::span<const StandUnit> second,
                           TrialEnd end, const TrayAwareDifference& posterior, double d = 0.10);

}  // namespace plumule::stats
