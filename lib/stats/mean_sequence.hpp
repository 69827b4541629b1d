// Half-widths of intervals for a mean of 0/1 outcomes that hold at all n at once, and the fixed-n
// one they are held against. Simpler and wider than the mixture of batch_sequence.hpp.
#pragma once

#include <cstdint>

namespace plumule::stats {

// Two-sided normal mixture, sub-Gaussian sigma = 1/2, tuning rho > 0, V = n / 4:
// sqrt((V + rho) log((V + rho) / (rho alpha^2))) / n. (Howard, Ramdas, McAuliffe & Sekhon 2021.)
double normal_mixture_half_width(std::int64_t n, double alpha, double rho);

// Stitched boundary, valid for all n >= 1: sigma 1.7 sqrt((log log 2n + 0.72 log(10.4 / alpha)) /
// n). (Same paper, its equation 2.)
double stitched_half_width(std::int64_t n, double alpha, double sigma = 0.5);

// Its intrinsic-time form, V = max(1, n sigma^2): 1.7 sqrt(V (log log 2V + 0.72 log(10.4 / alpha)))
// / n.
double stitched_intrinsic_half_width(std::int64_t n, double alpha, double sigma = 0.5);

// sqrt(log(2 / alpha) / (2 n)): at one n fixed beforehand only.
double hoeffding_half_width(std::int64_t n, double alpha);

// All throw std::domain_error unless n >= 1, 0 < alpha < 1 and the tuning is above 0.

}  // namespace plumule::stats
