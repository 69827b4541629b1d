// Two treatments' final stands compared when seeds of one sowing resemble each other: the posterior
// of p1 - p2 with one rho for both, and of the ratio and the odds ratio from the same posterior.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/inference/interval.hpp"
#include "stats/trays/angle_table.hpp"
#include "stats/trays/angle_walk.hpp"
#include "stats/trays/contrast_curve.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_aware.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// p1 and p2 independently ~ Beta(1/2, 1/2), rho common (model and prior as in tray_aware.hpp).
// The first treatment is the one asked about, the second what it is held against: differences are
// p1 - p2, ratios p1 / p2. Intervals are equal-tailed, ends within 1e-6 of the difference.
// Where a treatment has no sowings its prior stands alone, and status() says no_trays. Not to be
// shared between threads.
class TrayAwareDifference {
 public:
  // Throws std::domain_error for a count that cannot be or a prior out of range.
  TrayAwareDifference(std::span<const TrayCount> first, std::span<const TrayCount> second,
                      const RhoPrior& prior);

  TrayAwareStatus status() const { return status_; }
  double mean_difference() const { return mean_first_ - mean_second_; }  // posterior mean
  double mean_first() const { return mean_first_; }
  double mean_second() const { return mean_second_; }
  double rho_mean() const { return rho_mean_; }

  // Method tray-aware, 0 < level < 1. First all full and second all 0 puts the upper end at 1; the
  // mirror, the lower end at -1.
  Interval difference(double level = 0.95) const;
  // p1 / p2 in [0, infinity]: lower 0 if the first is all 0, upper infinity if the second is all 0.
  Interval ratio(double level = 0.95) const;
  // p1 (1 - p2) / ((1 - p1) p2): lower 0 where the first is all 0 or the second all full; upper
  // infinity where the first is all full or the second all 0.
  Interval odds_ratio(double level = 0.95) const;

  double probability_better() const { return probability_better_by(0); }  // P(p1 > p2)
  double probability_better_by(double d) const;                           // P(p1 - p2 > d), any d
  double probability_within(double d) const;            // P(|p1 - p2| < d), d >= 0
  double probability_ratio_above(double c) const;       // P(p1 / p2 > c), c >= 0
  double probability_odds_ratio_above(double w) const;  // w >= 0

 private:
  double above(Contrast contrast, double value) const;
  Interval interval(Contrast contrast, double level, double lowest, double highest) const;

  TrayAwareStatus status_ = TrayAwareStatus::ok;
  AngleMap first_, second_;
  bool first_zero_ = false, first_full_ = false, second_zero_ = false, second_full_ = false;
  double mean_first_ = 0.5, mean_second_ = 0.5, rho_mean_ = 0, sd_ = 1;
  // The joint density at the points of both tables, the second's one after another; and the two
  // ways of walking it.
  std::vector<double> joint_;
  std::size_t first_points_ = 0;
  std::optional<AngleWalk> along_second_;
  mutable std::optional<AngleWalk> along_first_;  // made when the other is in doubt
};

}  // namespace plumule::stats
