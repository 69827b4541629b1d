// Which blocks hold both of two treatments, and whether a claim goes by the differences within
// them: by the layout, never by what came up.
#pragma once

#include <vector>

#include "analysis/comparison/trial_layout.hpp"

namespace plumule::analysis {

struct BlockChoice {
  std::vector<bool> both;  // each stratum of the layout (block, seed lot and trial)
  bool judged = false;     // claims go by differences within them
};

// What of a unit can be compared: a final stand; or days, which a stopped sowing has none of.
enum class Compared { stand, days };

// stats::judged_within_blocks of the units that have it.
BlockChoice block_choice(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                         Compared what);

}  // namespace plumule::analysis
