// The randomisation test at the level of the unit, within blocks: how far out is the difference
// seen among all differences that other drawings of lots would have given? General in the values
// (stand fractions, mean days, t50).
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "stats/proportions/replicates.hpp"

namespace plumule::stats {

struct RandomisedUnit {
  std::string code;  // sorts the units within a block, so that the order given is nothing
  int block;         // any number; no blocks recorded: the same for all
  bool treated;      // in the first of the two treatments compared
  double value;      // finite
};

enum class RandomisationStatus {
  ok,
  layout_only,  // only what the layout can give: no difference, no p
  no_block      // no block holds both treatments: nothing to re-label
};

struct Randomisation {
  RandomisationStatus status = RandomisationStatus::no_block;
  double difference = 0;    // treated less control: block differences weighted by block size
  double p = 1;             // two-sided
  double smallest_p = 1;    // the least that this layout can give, ties or not (design only)
  double arrangements = 0;  // number of re-labellings within blocks (exact to 2^53)
  bool exact = false;       // enumerated; else drawn
  std::int64_t draws = 0;   // re-labellings drawn beside the actual one; p is then a whole number
                            // of 1/(draws + 1), so never under that
  std::uint64_t seed = 0;
  int treated = 0;  // units counted
  int control = 0;
  std::vector<int> blocks_left_out;  // lacking either treatment; in rising order
};

inline constexpr double most_enumerated = 200000;

// p: share of re-labellings (the actual one among them) whose difference lies at least as far from
// the mean over all re-labellings (which is 0) as the one seen; ties within 1e-9 count. Enumerated
// up to 200,000 arrangements, else the actual one and `draws` drawn from `seed`. Exchanging the two
// treatments leaves p as it is. Throws std::domain_error for a value that is not finite or draws
// < 1.
Randomisation randomisation_test(std::span<const RandomisedUnit> units,
                                 std::uint64_t seed = default_seed,
                                 std::int64_t draws = default_draws);

// The same without looking at the values: what the layout can give. What may be told of a trial
// that is still open.
Randomisation randomisation_layout(std::span<const RandomisedUnit> units,
                                   std::int64_t draws = default_draws);

// Units of each treatment in one block.
struct BlockLayout {
  int treated;
  int control;
};

// Number of re-labellings of a layout, as a double; blocks without both treatments count as 1.
double arrangements(std::span<const BlockLayout> blocks);

// The least p the layout can give: 2/arrangements where every block holds as many of the one as of
// the other (all labels exchanged is as far out), else 1/arrangements. 1 where no block has both.
double smallest_randomisation_p(std::span<const BlockLayout> blocks);

}  // namespace plumule::stats
