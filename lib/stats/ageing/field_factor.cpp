#include "stats/ageing/field_factor.hpp"

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr int shares_sound = 12, shares_failed = 4;

struct BetaPart {
  double weight, a, b;
};

void add(std::vector<FactorNode>& nodes, const BetaPart& part, int shares) {
  for (int i = 0; i < shares; ++i)
    nodes.push_back({beta_quantile((i + 0.5) / shares, part.a, part.b), part.weight / shares});
}

std::vector<FactorNode> mixed(const BetaPart& sound, const BetaPart& failed) {
  std::vector<FactorNode> nodes;
  add(nodes, sound, shares_sound);
  add(nodes, failed, shares_failed);
  return nodes;
}

}  // namespace

std::vector<FactorNode> field_factor(Ground ground) {
  if (ground == Ground::towel) return {{1, 1}};
  if (ground == Ground::under_cover) return mixed({0.95, 18, 2}, {0.05, 1, 19});
  return mixed({0.9, 4, 2}, {0.1, 1, 9});
}

}  // namespace plumule::stats
