// What tests say of a lot, as weighted points of p and rho: the posterior of tray_aware.hpp in a
// form that can be summed over, or moved point by point, before anything is foretold from it.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

struct LotPoint {
  double p = 0;       // the lot's proportion, above 0 and below 1
  double rho = 0;     // correlation of seeds within one sowing
  double weight = 0;  // posterior mass; all points together 1
};

// p ~ Beta(1/2, 1/2), rho as its prior, each tray one beta draw. Gauss-Chebyshev points in p for
// each node of rho: as the likelihood is a polynomial in p, sums over the points are exact for
// every polynomial in p of a degree up to `fresh` while there are at most 100 seeds in all,
// and to 1e-10 up to a million. Points that hold under 1e-13 are left out. No trays: the prior.
// fresh: how many seeds are to be foretold, 1 to 1e9. Throws std::domain_error for it, and for
// counts or a prior that cannot be.
std::vector<LotPoint> lot_belief(std::span<const TrayCount> trays, const RhoPrior& prior,
                                 std::int64_t fresh);

}  // namespace plumule::stats
