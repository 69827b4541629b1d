// Student's t on per-sowing values: one mean, and the difference of two, pooled, Welch or within
// strata.
#pragma once

#include <span>

#include "stats/inference/interval.hpp"

namespace plumule::stats {

enum class TStatus {
  ok,
  too_few,     // pooled: fewer than three values in all or an empty group; Welch: a group under
               // two; one mean: under two values
  no_variance  // all values within the groups are equal: no standard error, no p
};

struct TTest {
  TStatus status = TStatus::too_few;
  double difference = 0;  // mean of the first less mean of the second (given when both have values)
  double se = 0;
  double df = 0;
  double t = 0;
  double p = 1;         // two-sided; meaningful with status ok only, as are se, df, t, interval
  Interval interval{};  // methods student-t (pooled), welch-t
};

// Two-sample t with a common variance; n1 + n2 - 2 df.
TTest pooled_t(std::span<const double> first, std::span<const double> second, double level = 0.95);

// Two-sample t without it (Welch 1947; Satterthwaite's df).
TTest welch_t(std::span<const double> first, std::span<const double> second, double level = 0.95);

// A value and the stratum it lies in.
struct StratumValue {
  double value = 0;
  int stratum = 0;
};

// Whether the strata hold different shares of the two sides, so that the difference of their means
// is partly one of strata.
bool spread_unevenly(std::span<const StratumValue> first, std::span<const StratumValue> second);

// The difference within strata, of the linear model value = stratum + treatment (least squares:
// strata weigh n1 n2 / (n1 + n2)); n1 + n2 less strata less 1 df. A stratum that lacks either side
// tells nothing of the difference, and something of the variance. too_few: no stratum has both, or
// no df.
TTest t_within_strata(std::span<const StratumValue> first, std::span<const StratumValue> second,
                      double level = 0.95);

// The mean of the values with its t interval on n - 1 df; `difference` holds the mean, p is for 0.
TTest one_mean_t(std::span<const double> values, double level = 0.95);

// All: values that are not finite, or a level outside (0, 1), throw std::domain_error. Values whose
// spread is only rounding (sd under 1e-12 of the largest) have no variance.

}  // namespace plumule::stats
