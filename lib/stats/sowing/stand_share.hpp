// What share of the seeds of a sowing will stand, before it is sown: from what is believed of the
// lot, and from what becomes of seed that is alive.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "stats/ageing/field_factor.hpp"
#include "stats/trays/lot_belief.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::stats {

// The same p, with rho as believed of another kind of sowing: what towels showed of a lot says how
// much of it is alive, and not how alike seeds of one tray or row are. Throws std::domain_error for
// a prior that cannot be.
std::vector<LotPoint> sown_in(std::span<const LotPoint> lot, const RhoPrior& prior);

struct ShareNode {
  double share = 0;   // 0 to 1
  double weight = 0;  // all nodes together 1
};

// The share of all seeds of `sowings` trays or rows alike, together. `lot`: p and rho as weighted
// points; `factor`: of p so much comes to stand, one draw for all of them (they lie side by side);
// {{1, 1}} where all of it does. Each sowing is one beta draw of correlation rho; thinned by a
// factor c the correlation is rho c (1 - p) / (1 - c p), as seeds then fall independently, and of
// the total of k sowings it is rho / k: mean and variance are exact, the shape is taken as beta.
// At most 400 nodes, in rising order of share; chances from them are within 2e-3 of sums over the
// beta-binomial. Throws std::domain_error without points or factors, for factors outside 0 to 1,
// and for fewer than one sowing.
std::vector<ShareNode> stand_share(std::span<const LotPoint> lot,
                                   std::span<const FactorNode> factor, std::int64_t sowings);

// Of two independent factors one after the other: what comes up of the seed, what stands of that.
std::vector<FactorNode> one_after_other(std::span<const FactorNode> first,
                                        std::span<const FactorNode> second);

// What is believed of a share after so many of so many were seen to come through (Beta(1/2, 1/2)
// before them), in shares of equal weight, each at its median. 0 <= through <= of;
// std::domain_error otherwise.
std::vector<FactorNode> share_seen(std::int64_t through, std::int64_t of);

}  // namespace plumule::stats
