// Limits for a ratio from the separate limits of its two parts (MOVER-R).
#pragma once

#include "stats/inference/interval.hpp"

namespace plumule::stats {

struct Limits {
  double estimate, lower, upper;  // 0 <= lower <= estimate <= upper, finite
};

// Donner & Zou 2012, eq. 9, for first/second; the second's upper limit must be above 0. Where the
// second's lower limit is 0 the upper limit is infinite. Only the limits `side` asks for are set;
// the other end is 0 or infinity.
Interval recovered_ratio(const Limits& first, const Limits& second, double level, Side side);

}  // namespace plumule::stats
