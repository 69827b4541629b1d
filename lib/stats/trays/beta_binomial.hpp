// The beta-binomial: trays whose true proportions vary about p with intra-tray correlation rho.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/proportions/tally.hpp"

namespace plumule::stats {

// Log-likelihood of (p, rho), 0 <= p <= 1, 0 <= rho < 1; rho = 0 is the binomial. With
// `coefficients` the binomial coefficients are included. -infinity where the data are impossible.
// Counts must be whole. Throws std::domain_error outside those ranges.
double beta_binomial_log_likelihood(std::span<const Tally> trays, double p, double rho,
                                    bool coefficients = true);

enum class BetaBinomialStatus {
  ok,             // an inner maximum
  rho_zero,       // on the boundary: the trays vary no more than chance would have them
  rho_one,        // on the other: every tray gave all or nothing
  not_estimable,  // rho is not identified: fewer than two trays in every group, single-seed
                  // trays, or nothing or everything up
  not_converged
};

struct BetaBinomialFit {
  BetaBinomialStatus status = BetaBinomialStatus::not_estimable;
  std::vector<double> p;  // one a group; the pooled fraction where rho is not estimable
  double rho = 0;
  double log_likelihood = 0;       // with the binomial coefficients
  std::vector<double> covariance;  // of (p..., rho), row by row, by the observed information; with
                                   // rho_zero of p alone; empty for rho_one and below
  int iterations = 0;

  double se_p(std::size_t group = 0) const;  // NaN where there is none (p at 0 or 1 among them)
  double se_rho() const;
};

struct GroupedTally {
  std::size_t group;  // 0, 1, ...
  Tally tally;
};

// Maximum likelihood: one p a group, one rho for all. Trays without seed are passed over. The
// order of the trays is nothing. p is concave for each rho, rho is scanned and then refined.
BetaBinomialFit fit_beta_binomial(std::span<const GroupedTally> trays);
BetaBinomialFit fit_beta_binomial(std::span<const Tally> trays);

// Moment estimate of rho: the analysis-of-variance intraclass correlation (Ridout, Demetrio & Firth
// 1999, Biometrics 55:137-148). May be negative. None with fewer than two trays, no tray of two
// seeds, or nothing or everything up.
std::optional<double> moment_rho(std::span<const Tally> trays);

}  // namespace plumule::stats
