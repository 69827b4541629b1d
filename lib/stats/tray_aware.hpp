// The default interval of a germination or emergence percentage: the posterior of p when seeds of
// one sowing resemble each other. Interval, limits and every probability about p come from this one
// posterior.
#pragma once

#include <span>
#include <vector>

#include "stats/rho_prior.hpp"
#include "stats/tray_count.hpp"

namespace plumule::stats {

enum class TrayAwareStatus {
  ok,
  no_trays  // nothing sown: the interval is [0, 1] and the rest is the prior alone
};

// Ends as fractions; lower <= upper.
struct TrayAwareInterval {
  double lower = 0;
  double upper = 1;
  TrayAwareStatus status = TrayAwareStatus::ok;
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

  // Equal-tailed interval, 0 < level < 1. All trays 0: lower end 0; all full: upper end 1; the
  // other end keeps (1 - level) / 2.
  TrayAwareInterval interval(double level = 0.95) const;
  // One-sided limits: p is at least / at most this with that posterior probability (0 < level < 1).
  // All 0 gives a lower limit 0, all full an upper limit 1.
  double lower_limit(double level = 0.95) const;
  double upper_limit(double level = 0.95) const;

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
  double centre_ = 0, scale_ = 1, u_lower_ = 0, u_upper_ = 1;  // angle = centre + scale sinh(u)
  std::vector<double> cumulative_;                             // Chebyshev series of the cdf in u
  std::vector<double> density_;                                // and of its derivative
  std::vector<double> rho_nodes_, rho_weights_;
};

// The interval alone, for callers that want nothing else.
TrayAwareInterval tray_aware_interval(std::span<const TrayCount> trays, const RhoPrior& prior,
                                      double level = 0.95);

}  // namespace plumule::stats
