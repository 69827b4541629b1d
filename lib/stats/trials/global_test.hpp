// Do several treatments differ at all? A permutation test on unit values within blocks.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "stats/trials/randomisation.hpp"

namespace plumule::stats {

struct TreatedUnit {
  std::string code;  // as in RandomisedUnit
  int block;
  int treatment;  // any number
  double value;
};

struct GlobalTest {
  RandomisationStatus status = RandomisationStatus::no_block;
  double between = 0;  // between-treatment sum of squares of the block-centred values
  double p = 1;
  double smallest_p = 1;  // by the design alone
  double arrangements = 0;
  bool exact = false;
  std::int64_t draws = 0;
  std::uint64_t seed = 0;
  std::vector<int> blocks_left_out;  // those with fewer than two treatments
};

// Statistic: sum over treatments of (sum of its block-centred values)^2 / units. Enumerated, drawn,
// sorted and refused as in randomisation_test; p counts statistics at least as large within 1e-9.
GlobalTest global_randomisation_test(std::span<const TreatedUnit> units,
                                     std::uint64_t seed = default_seed,
                                     std::int64_t draws = default_draws);

}  // namespace plumule::stats
