// How many seeds will come up in one more test, given those tested so far: what it would show
// before it is sown, and whether what it showed can be believed beside the others.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "stats/trays/lot_belief.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// P(x come up in all the trays of one fresh test), x = 0 .. all of its seeds; adds to 1. One p for
// all, each tray a beta draw of its own (beta-binomial: Skellam 1948, from memory): exactly, of one
// tray and of several up to 1000 seeds. Of several with more seeds the beta-binomial that has the
// total's mean and variance, p q sum n (1 + (n - 1) rho): at a given p, and rho up to 0.15, its
// tails lie within 0.01 of the exact ones for trays of one size, 0.025 for unlike ones. `sown`:
// seeds of each tray, at least one tray, 1 to 2000 seeds in all; std::domain_error otherwise.
std::vector<double> fresh_test_chances(std::span<const LotPoint> lot,
                                       std::span<const std::int64_t> sown);

// The smaller tail at x, with half of x's own chance (mid-p: Lancaster 1961, from memory).
double mid_p(std::span<const double> chances, std::int64_t x);

// The mid-p of what a fresh test gave, under what the lot's other tests say: Box's predictive check
// (1980, from memory). Small where it cannot be what they foretold. A caller who believes that the
// lot changed in between moves or spreads the points first. Any number of seeds to 1e9: above 2000
// the total's share is taken as a beta variable of the same mean and variance. Throws
// std::domain_error for counts that cannot be, or no trays.
double fresh_test_mid_p(std::span<const LotPoint> lot, std::span<const TrayCount> fresh);

// P(x of n come up in a fresh sowing | the trays), x = 0 .. n: the same of one tray. 1 <= n <=
// 1000; std::domain_error otherwise, and for counts or a prior that cannot be.
std::vector<double> fresh_sowing_chances(std::span<const TrayCount> trays, const RhoPrior& prior,
                                         std::int64_t n);

}  // namespace plumule::stats
