// Does one treatment come up sooner than another? Differences in mean days and in t50 between
// sowings, which are the experimental units.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/times/time_course.hpp"

namespace plumule::stats {

// Mean days of those that emerged, each put in the middle of its count interval; none where nothing
// emerged. Needs no units sown.
std::optional<double> mean_days_midway(const TimeCourse& course);

// Day by which half of those that emerged were up, interpolated from (0, 0) at N/2; none likewise.
std::optional<double> median_days(const TimeCourse& course);

enum class SpeedStatus {
  compared,
  too_few,      // fewer than two sowings with emergence on either side: no error can be told
  no_variance,  // all sowings of each side alike: a t test has nothing to go by
  nothing_up,   // one side has nothing up at all: no difference to speak of
};

// treatment minus against, days: below 0, sooner. difference is none where nothing_up; the rest of
// the optionals are none unless compared.
struct SpeedDifference {
  SpeedStatus status = SpeedStatus::nothing_up;
  std::optional<double> difference;
  std::optional<double> se;
  std::optional<double> t;
  std::optional<double> df;
  std::optional<double> p;  // two-sided
  double level = 0.95;      // of lower and upper
  std::optional<double> lower, upper;
  std::optional<double> lower90, upper90;  // what the verdict goes by, whatever the level
  bool within_sources = false;
  bool within_blocks = false;  // likewise, as asked
  bool welch = false;  // numbers of sowings differ by more than one: unequal variances (Welch 1947)
  int sowings = 0;     // used, of treatment
  int against = 0;     // used, of against
  int left_out = 0;    // sowings of treatment with nothing up, left out
  int left_out_against = 0;
  // The values compared, one a sowing used, in the order given: for a randomisation test.
  std::vector<double> values;
  std::vector<double> against_values;
};

// Pooled t on the sowings' mean days, or Welch's where welch. Throws std::domain_error for a bad
// course or level.
SpeedDifference compare_mean_days(std::span<const TimeCourse> treatment,
                                  std::span<const TimeCourse> against, double level = 0.95);

// The same of median_days.
SpeedDifference compare_t50(std::span<const TimeCourse> treatment,
                            std::span<const TimeCourse> against, double level = 0.95);

// The same of any values, one a sowing; a value of none is left out. `sources`, if given, one for
// each value: where those used lie unevenly over them (seed lots, say), the difference and its t
// are those within sources.
SpeedDifference compare_values(std::span<const std::optional<double>> treatment,
                               std::span<const std::optional<double>> against,
                               std::span<const int> sources = {},
                               std::span<const int> against_sources = {}, double level = 0.95);

// The difference within blocks, by the layout's leave (judged_within_blocks): t_within_strata of
// values, one a sowing, and the block of each. too_few where those with a value leave no block of
// both, or no degrees of freedom.
SpeedDifference compare_within_blocks(std::span<const std::optional<double>> treatment,
                                      std::span<const std::optional<double>> against,
                                      std::span<const int> blocks,
                                      std::span<const int> against_blocks, double level = 0.95);

}  // namespace plumule::stats
