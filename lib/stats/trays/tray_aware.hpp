// The default interval of a germination or emergence percentage: the posterior of p when seeds of
// one sowing resemble each other. Interval, limits and every probability about p come from this one
// posterior.
#pragma once

#include <span>
#include <vector>

#include "stats/inference/interval.hpp"
#include "stats/trays/angle_table.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

enum class TrayAwareStatus {
  ok,
  no_trays  // nothing sown: the interval is [0, 1] and the rest is the prior alone
};

// Model: sowing i gives x_i of n_i, beta-binomial with mean p and correlation rho (shapes
// p (1 - rho) / rho and (1 - p)(1 - rho) / rho); p ~ Beta(1/2, 1/2), rho ~ Beta(1, B) or fixed.
// Method: rho by the trapezoid in log(-B log(1 - rho)), p in the arcsine scale (where Beta(1/2,
// 1/2) is flat) by a Chebyshev series whose degree is doubled until its tail is negligible. Ends
// are within 1e-6 for 1 to 1e6 seeds a sowing (and usable to 1e9). Order of sowings does not
// matter. Not thread-shared while being built; const afterwards.
class TrayAwarePosterior {
 public:
  // Throws std::domain_error for a count that cannot be (see TrayCount) or a prior out of range.
  TrayAwarePosterior(std::span<const TrayCount> trays, const RhoPrior& prior);

  TrayAwareStatus status() const { return status_; }

  // Equal-tailed interval (method tray-aware), 0 < level < 1. All trays 0: lower end 0; all full:
  // upper end 1; the other end keeps (1 - level) / 2. No trays: [0, 1]. One-sided: p is at least
  // (Side::lower) or at most (Side::upper) the limit with that posterior probability.
  Interval interval(double level = 0.95, Side side = Side::both) const;

  // P(p >= s | data), any s (1 at s <= 0, 0 at s > 1).
  double probability_at_least(double s) const;
  // Posterior quantile of p, 0 <= q <= 1, without the rule for all 0 and all full.
  double quantile(double q) const;
  double mean() const { return mean_; }          // posterior mean of p
  double rho_mean() const { return rho_mean_; }  // posterior mean of rho
  // log of the marginal likelihood (no binomial coefficients), p and rho integrated over the prior.
  double log_evidence() const { return log_evidence_; }
  // Posterior of rho: its nodes and their weights (adding to 1); for drawing from the posterior.
  const std::vector<double>& rho_nodes() const { return rho_nodes_; }
  const std::vector<double>& rho_weights() const { return rho_weights_; }

 private:
  TrayAwareStatus status_ = TrayAwareStatus::ok;
  bool all_zero_ = false, all_full_ = false;
  double mean_ = 0.5, rho_mean_ = 0, log_evidence_ = 0;
  AngleMap map_;
  std::vector<double> cumulative_, density_;  // Chebyshev series of the cdf, and of its slope
  std::vector<double> points_, rough_cdf_;    // where to begin looking for a quantile
  std::vector<double> rho_nodes_, rho_weights_;
};

// The interval alone, for callers that want nothing else.
Interval tray_aware_interval(std::span<const TrayCount> trays, const RhoPrior& prior,
                             double level = 0.95, Side side = Side::both);

}  // namespace plumule::stats
