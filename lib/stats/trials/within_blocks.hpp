// When differences go by those within blocks: what one bench, shelf or day does to both treatments
// alike can then neither hide a difference nor make one.
#pragma once

#include <span>

#include "stats/trials/randomisation.hpp"

namespace plumule::stats {

// Fewer degrees of freedom leave the spread within blocks hardly known.
inline constexpr double least_block_df = 5;

// Of the differences in days; the stand has its own model for every layout (stats/stand). Decided
// by the layout alone, never by what came up: two blocks or more hold both treatments, and units in
// them less blocks less 1 is 5 or more (six pairs; two blocks of two and two).
bool judged_within_blocks(std::span<const BlockLayout> blocks);

}  // namespace plumule::stats
