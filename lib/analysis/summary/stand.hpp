// How many of those sown came up, or stand: the percentage with its intervals, and whether the
// sowings agree.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "stats/inference/interval.hpp"
#include "stats/proportions/replicate_range.hpp"
#include "stats/proportions/replicates.hpp"
#include "stats/trays/beta_binomial.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::analysis {

struct Stand {
  int sowings = 0;  // those counted and of a known number sown
  std::int64_t seeds = 0;
  std::int64_t emerged = 0;
  std::optional<double> fraction;  // pooled; none where no sowing can tell
  // The mean of the sowings' own fractions, each counting once. Where sowings differ in size it may
  // lie far from `fraction`; the tray-aware interval lies between the two.
  std::optional<double> mean_of_sowings;
  std::optional<stats::Interval> interval;  // the default one: tray-aware; it holds `fraction`
  bool interval_moved = false;              // by itself it would not: one end was moved there
  // By add_other_intervals: tray-aware, Wilson, Clopper-Pearson, Jeffreys; with two units or more
  // the design effect's.
  std::vector<stats::Interval> intervals;
  stats::RhoPrior prior;
  double rho90 = 0;  // of the prior in force
};

// The pooled share weighs seeds, the tray-aware interval rather sowings: where those are of very
// unlike size it may leave the share out, and an answer with a number outside its range is none.
// The end that would leave `share` out moves to it; returns whether one did.
bool hold_share(stats::Interval& interval, double share);

// Intervals go by the units, where sowings shared a jar: their counts, all of a jar put together.
// None: each sowing is one. Throws std::domain_error for a count, prior or level that cannot be.
Stand stand_of(std::span<const stats::TrayCount> sowings, const stats::RhoPrior& prior,
               double level = 0.95, std::span<const stats::TrayCount> units = {});
// The same without the interval, which is most of the work.
Stand stand_without_range(std::span<const stats::TrayCount> sowings, const stats::RhoPrior& prior);

// The default interval and, to hold beside it, the others of the same units and level. Nothing
// where there is no stand.
void add_other_intervals(Stand& stand, std::span<const stats::TrayCount> units);

// Do replicate sowings agree as chance alone would have them?
struct Agreement {
  stats::RangeCheck range;                     // highest less lowest, against what is tolerated
  std::optional<stats::Heterogeneity> spread;  // chi-squared; none where all or nothing is up
  stats::BetaBinomialFit beta_binomial;        // likeliest p and rho
};

// None with fewer than two sowings, or more than 100 (chance alone then breaks any fixed range).
std::optional<Agreement> agreement_of(std::span<const stats::TrayCount> sowings,
                                      std::uint64_t seed);

}  // namespace plumule::analysis
