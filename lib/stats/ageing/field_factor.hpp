// What the ground gives of the seed that is alive: not all of it comes up in soil, and now and then
// a tray or bed fails whole.
#pragma once

#include <vector>

namespace plumule::stats {

enum class Ground { towel, under_cover, outdoors };  // towel: a dish, too

struct FactorNode {
  double factor = 1;  // of the seed alive so much comes up, given time and warmth
  double weight = 1;  // all nodes together 1
};

// The factor f of one sowing that was given its time. A towel or dish: 1. Under cover:
// 0.95 Beta(18, 2) + 0.05 Beta(1, 19); outdoors: 0.9 Beta(4, 2) + 0.1 Beta(1, 9) (judgement). Each
// part in shares of equal weight, each at its median.
std::vector<FactorNode> field_factor(Ground ground);

// The first part alone: of a sowing that does not fail whole; and the chance that it does.
std::vector<FactorNode> field_factor_unless_failed(Ground ground);
double chance_of_failing(Ground ground);

}  // namespace plumule::stats
