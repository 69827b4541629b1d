// One lot tested in batches: an interval for its percentage that stays valid whenever one stops.
#pragma once

#include <cstdint>
#include <span>

#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

struct BatchInterval {
  double lower = 0;
  double upper = 1;
  double deflation = 1;  // what log M was divided by
};

// The beta-binomial mixture martingale of `up` ones in n, mixing Beta(a, b):
// log M(p) = log B(a + up, b + n - up) - log B(a, b) - up log p - (n - up) log(1 - p); infinite
// where p makes the data impossible. (Robbins 1970; Howard et al. 2021.) a, b > 0, 0 <= p <= 1.
double log_mixture_martingale(std::int64_t up, std::int64_t n, double a, double b, double p);

// {p : log M(p) / deflation < log(1 / alpha)}: P(it ever excludes the true p) <= alpha for
// independent seeds at deflation 1. up = 0 gives lower 0, up = n upper 1. alpha in (0, 1),
// deflation >= 1; n = 0 gives [0, 1].
BatchInterval mixture_sequence(std::int64_t up, std::int64_t n, double a, double b, double alpha,
                               double deflation = 1);

// After any number of batches (a batch is a sowing), at that level: a = b = 1/2 mixed, deflation
// 1 + (mean n - 1) rho90(prior). Not for daily counts of one batch: seeds not yet up are no
// failures. Throws std::domain_error for counts or a prior that cannot be.
BatchInterval batch_sequence(std::span<const TrayCount> batches, const RhoPrior& prior,
                             double level = 0.95);

// Exact P(the mixture sequence at alpha ever excludes p within the first n seeds), independent
// seeds; by dynamic programming over the number up. n <= 1e4.
double probability_ever_excluded(double p, double alpha, std::int64_t n, double a, double b);

}  // namespace plumule::stats
