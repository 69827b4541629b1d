// How many seeds to sow so that a stand is reached with a stated chance, and what so many will
// give; in trays and rows, and in cells of several seeds that are thinned to one.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "stats/sowing/stand_share.hpp"

namespace plumule::stats {

// All of these: `share` as stand_share gives it; counts from 1 to 1e9, std::domain_error otherwise.

// P(at least `plants` of `seeds` stand): binomial at each node (1 for no plants, 0 for more than
// seeds). The share's own spread makes of it the beta-binomial predictive.
double chance_of_stand(std::span<const ShareNode> share, std::int64_t seeds, std::int64_t plants);

double expected_stand(std::span<const ShareNode> share, std::int64_t seeds);

// The equal-tailed range of how many will stand: at most (1 - level) / 2 lies below it, and as much
// above. 0 < level < 1.
struct StandRange {
  std::int64_t lower = 0, upper = 0;
};
StandRange stand_range(std::span<const ShareNode> share, std::int64_t seeds, double level);

// The fewest seeds of which at least `plants` stand with that chance; none where not even `most`
// would do. 0 < chance < 1.
std::optional<std::int64_t> seeds_to_sow(std::span<const ShareNode> share, std::int64_t plants,
                                         double chance, std::int64_t most);

// Cells with so many seeds each, thinned to one plant a cell.
struct CellStand {
  double filled = 0;   // expected cells with a plant
  double thinned = 0;  // expected plants to take out
};
CellStand cell_stand(std::span<const ShareNode> share, std::int64_t cells, std::int64_t per_cell);

// P(at least `filled` of `cells` have a plant).
double chance_of_filled(std::span<const ShareNode> share, std::int64_t cells, std::int64_t per_cell,
                        std::int64_t filled);

// The fewest seeds a cell of which at least `filled` of `cells` have a plant with that chance; none
// where not even `most` a cell would do.
std::optional<std::int64_t> seeds_per_cell(std::span<const ShareNode> share, std::int64_t cells,
                                           std::int64_t filled, double chance, std::int64_t most);

}  // namespace plumule::stats
