// How evenly two treatments were looked at while units came up, and what their days can still tell
// where they were not: the middle of a long gap is a poor guess of the day.
#pragma once

#include <optional>
#include <span>

#include "stats/times/emergence_treatments.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::stats {

// Gaps between looks (the first from day 0) that hold a tenth or more of what came up in a
// treatment. uneven: the longest is 1.5 days or more, and either as long as the spread while half
// as long again as the shortest, or twice the spread. Gaps of one length put the middles wrong by
// at most (h / pi) exp(-2 (pi s / h)^2), gap h and spread s (the first Fourier term of grouping a
// normal time): nothing to speak of up to h = 2 s. Gaps of different lengths shift the middles by
// about f'(t) h^3 / 12 each, for all sowings alike, so no spread between sowings shows it.
struct LookGaps {
  double shortest = 0;  // days
  double longest = 0;
  double first_found = 0;    // day of the look that found the first: the length of that gap
  double longest_after = 0;  // of the gaps after it; 0 where all came in it
  double spread = 0;         // standard deviation of the days by middles, within the treatments
  bool uneven = false;
};

// No emergence: all 0, not uneven. Throws std::domain_error for a bad course.
LookGaps look_gaps(std::span<const TimeCourse> treatment, std::span<const TimeCourse> against);

// What can be said of the days whatever lies in the gaps.
struct GapAllowance {
  // Of the model, clustered by sowing; none where it can't be fitted, no ends where a treatment has
  // one sowing.
  std::optional<TimeRatio> ratio;                      // at the level asked for
  std::optional<double> ratio_lower95, ratio_upper95;  // what a claim goes by, whatever the level
  std::optional<double> lower90, upper90;              // difference of t50 in days: (ratio - 1) t50
  std::optional<double> earliest, latest;  // difference in mean days with all emergences of
                                           // one at its gaps' ends, of the other's at starts
  bool sooner() const;  // the ratio's 95 % interval lies under 1, or the latest difference under 0
  bool later() const;
  bool within(double days) const;  // the 90 % interval of the difference lies within, either way
};

// `model`: of the two treatments in that order, each its own curve; it may know of sowings whose
// mean days do not count, such as those stopped early, for it takes what it has not seen as not
// seen.
GapAllowance allow_for_gaps(std::span<const TimeCourse> treatment,
                            std::span<const TimeCourse> against, const TreatmentsModel& model,
                            double level = 0.95);
// With the likeliest model of these very sowings.
GapAllowance allow_for_gaps(std::span<const TimeCourse> treatment,
                            std::span<const TimeCourse> against);

}  // namespace plumule::stats
