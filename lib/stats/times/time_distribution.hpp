// The four families of emergence time: what share of those that will come up is up by day t.
#pragma once

#include <array>

namespace plumule::stats {

enum class TimeFamily { log_logistic, lognormal, weibull, gamma };

inline constexpr std::array<TimeFamily, 4> every_time_family = {
    TimeFamily::log_logistic, TimeFamily::lognormal, TimeFamily::weibull, TimeFamily::gamma};

// log_logistic: F = 1 / (1 + (t/scale)^-shape), scale the median.
// lognormal:    log t normal about log scale with standard deviation shape; scale the median.
// weibull:      F = 1 - exp(-(t/scale)^shape).
// gamma:        density t^(shape-1) exp(-t/scale) / (Gamma(shape) scale^shape).
// All times are first shortened by lag (>= 0): nothing comes up before it.
struct TimeDistribution {
  TimeFamily family = TimeFamily::log_logistic;
  double shape = 1;
  double scale = 1;
  double lag = 0;
};

// Share up by day t, and share still to come; 0 and 1 at or before the lag, 1 and 0 at infinity.
// Throws std::domain_error unless shape and scale are finite and > 0, lag finite and >= 0, t not
// NaN.
double share_up(const TimeDistribution& distribution, double t);
double share_to_come(const TimeDistribution& distribution, double t);

// Day by which the share p (0 < p < 1) is up; std::domain_error for another p.
double time_of_share(const TimeDistribution& distribution, double p);

}  // namespace plumule::stats
