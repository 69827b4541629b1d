// The largest difference between replicates (highest less lowest) that chance explains: the
// published table where it applies, the rule behind it elsewhere.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "stats/proportions/tally.hpp"

namespace plumule::stats {

enum class RangeStatus {
  ok,
  too_few,       // fewer than two trays with seed
  unequal_sizes  // the rule is for trays of one size
};

// `table`: 7 CFR 201.55(a). `exact`: the smallest range that independent binomial replicates exceed
// with probability at most 2.5 %. `normal`: the same by the studentized range, for trays over
// 20,000.
enum class RangeSource { table, exact, normal };

struct ToleratedRange {
  double seeds;    // largest range still accepted, in seeds of a replicate
  double percent;  // the same in percent of a replicate
  RangeSource source;
  double exceed;  // probability of a larger range by chance; NaN for `normal`
};

// What is tolerated among m >= 2 replicates of n >= 1 seeds whose mean is `fraction` (0 to 1). The
// table serves 4 x 100 and 2 x 100, its mean rounded to a whole percent (half up); means it lacks
// (0, 1, 100; for two replicates also 2, 3, 98, 99) go by the exact rule. Throws std::domain_error
// for m < 2, n < 1, a fraction of a seed, or a fraction outside [0, 1].
ToleratedRange tolerated_range(int m, double n, double fraction);

// The computed rule alone, without the table.
ToleratedRange computed_range(int m, double n, double fraction);

// P(range > t seeds) for m independent Binomial(n, p); n at most 20,000.
double range_exceeds(int m, double n, double p, double t);

struct RangeCheck {
  RangeStatus status;
  double range_seeds = 0;  // highest less lowest
  double range_percent = 0;
  bool within = true;          // equal to the tolerated value is still accepted
  ToleratedRange tolerated{};  // meaningful with status ok only, as are all the figures
};

RangeCheck check_range(std::span<const Tally> trays);

}  // namespace plumule::stats
