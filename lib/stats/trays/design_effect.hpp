// An interval for the pooled percentage of several trays through its design effect: how much wider
// the spread between trays makes it than seeds drawn one by one.
#pragma once

#include <optional>
#include <span>

#include "stats/inference/interval.hpp"
#include "stats/proportions/tally.hpp"

namespace plumule::stats {

struct DesignEffect {
  double fraction;       // pooled
  double se;             // of the pooled fraction, from the spread between trays (ratio estimator,
                         // factor k/(k - 1))
  double design_effect;  // se^2 over the binomial variance, as it is (may be under 1); 1 where
                         // nothing or everything came up
  double n_effective;    // n / max(1, design effect)
  int trays;             // counted: those with seed
  double df;             // trays - 1
  Interval interval;     // method design-effect
};

// Korn & Graubard 1998 (Survey Methodology 24:193-201): Clopper-Pearson at n_effective times
// (t(N - 1) / t(k - 1))^2, deff kept >= 1. None with fewer than two trays. Throws std::domain_error
// for a level outside (0, 1).
std::optional<DesignEffect> design_effect(std::span<const Tally> trays, double level = 0.95);

}  // namespace plumule::stats
