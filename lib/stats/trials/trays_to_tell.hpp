// How many trays would tell: asked when a trial was too small for a verdict on the stand.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "stats/trays/rho_prior.hpp"
#include "stats/trials/stand_evidence.hpp"

namespace plumule::stats {

struct TraysToTell {
  // Trays each that a fresh trial, closed as planned, needs; null where even `most_tried` would not
  // reach the chance wanted.
  std::optional<int> trays;
  double chance = 0;       // of a verdict (more, fewer or neither) with that many, by simulation
  std::int64_t seeds = 0;  // seeds a tray assumed: the median of the trial's units, rounded
  int most_tried = 0;
  double p_first = 0, p_second = 0, rho = 0;  // what was assumed: this trial's posterior means
};

// Rule: take this trial's posterior means of p1, p2 and rho as the truth; simulate whole fresh
// trials of k trays each, judge each by planned_verdict (stand_claim's rule, its posterior
// approximated), and find the smallest k (2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24) whose share of
// verdicts more, fewer or neither is at least `chance_wanted`. Simulated from `seed`: the same
// trial gives the same answer. The list is searched by halving, each k with 40 to 400 trials by
// Wald's sequential test (1945) of shares 0.04 above and below the one wanted, wrong 1 time in 20
// at those: it asks for a third to a half of the trials that a fixed three standard errors do. The
// share so carries a standard error of 0.02 to 0.06: the number is a guide, not a promise. Trays
// of more than a thousand seeds are simulated as of a thousand: beyond that it is trays that tell.
// Where p1 and p2 differ by about half of d no number of trays is in reach, and the answer is null.
// Throws std::domain_error as stand_evidence.
TraysToTell trays_to_tell(std::span<const StandUnit> first, std::span<const StandUnit> second,
                          const RhoPrior& prior, double d = 0.10, double chance_wanted = 0.8,
                          std::uint64_t seed = 1);
// The same from a posterior of these units under that prior that is at hand already.
TraysToTell trays_to_tell(std::span<const StandUnit> first, std::span<const StandUnit> second,
                          const TrayAwareDifference& posterior, const RhoPrior& prior,
                          double d = 0.10, double chance_wanted = 0.8, std::uint64_t seed = 1);

// The chance that a fresh trial of k trays of `seeds` each, closed as planned, ends in each
// verdict, when p1, p2 and rho are the truth, each judged by stand_claim itself. Shares add to 1.
struct StandChances {
  double more = 0, fewer = 0, neither = 0, too_small = 0;
};
StandChances stand_chances(double p_first, double p_second, double rho, int trays,
                           std::int64_t seeds, const RhoPrior& prior, double d, int trials,
                           std::uint64_t seed);

}  // namespace plumule::stats
