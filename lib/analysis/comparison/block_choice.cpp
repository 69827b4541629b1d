#include "analysis/comparison/block_choice.hpp"

#include <algorithm>

#include "stats/trials/block_evidence.hpp"

namespace plumule::analysis {

BlockChoice block_choice(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                         Compared what) {
  std::vector<stats::BlockLayout> blocks(layout.strata.size(), {0, 0});
  const auto has = [&](std::size_t i) {
    const auto& sowing = layout.sowings[i];
    return what == Compared::stand ? sowing.in_stand : sowing.course.looked && !sowing.stopped;
  };
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    if (!std::any_of(unit.sowings.begin(), unit.sowings.end(), has)) continue;
    auto& block = blocks[static_cast<std::size_t>(unit.stratum)];
    ++(unit.treatment == treatment ? block.treated : block.control);
  }
  BlockChoice choice;
  choice.judged = stats::judged_within_blocks(blocks);
  for (const auto& block : blocks) choice.both.push_back(block.treated > 0 && block.control > 0);
  return choice;
}

}  // namespace plumule::analysis
