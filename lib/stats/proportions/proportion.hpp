// Intervals for one proportion, the units taken as independent: Wilson, Clopper-Pearson, Jeffreys.
#pragma once

#include "stats/inference/interval.hpp"
#include "stats/proportions/tally.hpp"

namespace plumule::stats {

// All three: n = 0 gives [0, 1]; x and n may be fractions, n to 1e9 and more; a level outside
// (0, 1) throws std::domain_error, as does a tally that cannot be (see Tally). A one-sided
// interval puts the whole 1 - level beyond its one limit; the other end is 0 or 1. At the usual
// levels (80 % and more) every interval holds x/n; that of n - x is the mirror image of that of x.
// Units that share a tray are not independent: these intervals are then too short.

// Score interval (Wilson 1927). The lower end is 0 at x = 0, the upper 1 at x = n. With
// `correction`: the continuity-corrected score interval (Newcombe 1998, Statistics in Medicine
// 17:857-872, method 4), likewise closed at 0 and n.
Interval wilson(Tally tally, double level = 0.95, Side side = Side::both, bool correction = false);

// Exact interval (Clopper & Pearson 1934) by beta quantiles: coverage never under the level.
Interval clopper_pearson(Tally tally, double level = 0.95, Side side = Side::both);

// What Jeffreys' interval does where nothing or everything came up.
enum class JeffreysEnds {
  closed,  // lower end 0 at x = 0, upper end 1 at x = n, the other end keeps (1 - level)/2
           // (Brown, Cai & DasGupta 2001, Statistical Science 16:101-133, section 3.1.3)
  plain    // the posterior quantiles throughout
};

// Equal-tailed posterior of Beta(x + 1/2, n - x + 1/2).
Interval jeffreys(Tally tally, double level = 0.95, Side side = Side::both,
                  JeffreysEnds ends = JeffreysEnds::closed);

}  // namespace plumule::stats
