// How many of n seeds will come up in one more sowing, given those tested so far: what another test
// would show before it is sown.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// P(x of n come up in a fresh sowing | the trays), x = 0 .. n: the beta-binomial predictive with p
// and rho integrated over the posterior of tray_aware.hpp, by the ratio of the marginal likelihoods
// with and without the fresh sowing. Adds to 1 (normalised; the ratio itself is within 1e-6).
// 1 <= n <= 1000; std::domain_error otherwise, and for counts or a prior that cannot be.
std::vector<double> fresh_sowing_chances(std::span<const TrayCount> trays, const RhoPrior& prior,
                                         std::int64_t n);

}  // namespace plumule::stats
