#include "stats/ageing/field_factor.hpp"

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr int shares_sound = 12, shares_failed = 4;

struct Beta {
  double a, b;
};
struct Parts {
  double failing;
  Beta sound, failed;
};
constexpr Parts under_cover = {0.05, {18, 2}, {1, 19}};
constexpr Parts outdoors = {0.1, {4, 2}, {1, 9}};

const Parts& parts_of(Ground ground) {
  return ground == Ground::under_cover ? under_cover : outdoors;
}

void add(std::vector<FactorNode>& nodes, const Beta& part, double weight, int shares) {
  for (int i = 0; i < shares; ++i)
    nodes.push_back({beta_quantile((i + 0.5) / shares, part.a, part.b), weight / shares});
}

}  // namespace

std::vector<FactorNode> field_factor(Ground ground) {
  if (ground == Ground::towel) return {{1, 1}};
  const Parts& parts = parts_of(ground);
  std::vector<FactorNode> nodes;
  add(nodes, parts.sound, 1 - parts.failing, shares_sound);
  add(nodes, parts.failed, parts.failing, shares_failed);
  return nodes;
}

std::vector<FactorNode> field_factor_unless_failed(Ground ground) {
  if (ground == Ground::towel) return {{1, 1}};
  std::vector<FactorNode> nodes;
  add(nodes, parts_of(ground).sound, 1, shares_sound);
  return nodes;
}

double chance_of_failing(Ground ground) {
  return ground == Ground::towel ? 0 : parts_of(ground).failing;
}

}  // namespace plumule::stats
