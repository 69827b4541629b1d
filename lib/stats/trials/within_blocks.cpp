#include "stats/trials/within_blocks.hpp"

namespace plumule::stats {

bool judged_within_blocks(std::span<const BlockLayout> blocks) {
  int units = 0, of_both = 0;
  for (const auto& block : blocks) {
    if (block.treated < 1 || block.control < 1) continue;
    units += block.treated + block.control;
    ++of_both;
  }
  return of_both >= 2 && units - of_both - 1 >= least_block_df;
}

}  // namespace plumule::stats
