// What the differences within blocks say of the stand: what one bench, shelf or day does to both
// treatments alike can then neither hide a difference nor make one. When a layout allows it, and
// how many blocks would tell.
#pragma once

#include <optional>
#include <span>

#include "stats/inference/t_test.hpp"
#include "stats/trials/randomisation.hpp"
#include "stats/trials/stand_evidence.hpp"

namespace plumule::stats {

// Fewer degrees of freedom leave the spread within blocks hardly known.
inline constexpr double least_block_df = 5;

// Decided by the layout alone, never by what came up: two blocks or more hold both treatments, and
// units in them less blocks less 1 is 5 or more (six pairs; two blocks of two and two).
bool judged_within_blocks(std::span<const BlockLayout> blocks);

// The t within blocks (t_within_strata, one value a unit) with, for where the blocks' differences
// do not vary at all, the p of drawing lots anew within blocks. Of units in blocks that hold both,
// as judged_within_blocks has found them. Throws std::domain_error unless 0 < d <= 1.
StandEvidence stand_evidence_within_blocks(std::span<const StratumValue> first,
                                           std::span<const StratumValue> second, double lots_p,
                                           double d = 0.10);

struct BlocksToTell {
  std::optional<int> blocks;  // null where even `most_tried` would not reach the chance wanted
  double chance = 0;          // of a verdict with that many
  int most_tried = 0;
};

// How many blocks like these, in a fresh trial, would end in more, fewer or neither in
// `chance_wanted` of trials, if the difference and the spread within blocks are what they look now:
// the smallest of 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 48 with 5 degrees of freedom. Values are
// taken as normal, 4,000 trials drawn from `seed` for each. Throws as stand_evidence_within_blocks;
// status of the t other than ok: none would tell.
BlocksToTell blocks_to_tell(std::span<const StratumValue> first,
                            std::span<const StratumValue> second, double d = 0.10,
                            double chance_wanted = 0.8, std::uint64_t seed = 1);

}  // namespace plumule::stats
