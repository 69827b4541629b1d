#include "stats/trials/block_evidence.hpp"

#include <cmath>
#include <set>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/random.hpp"
#include "stats/trials/claims.hpp"

namespace plumule::stats {
namespace {

constexpr int layouts[] = {3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 48};
constexpr int drawn = 4000;

void check_worth(double d) {
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
}

}  // namespace

bool judged_within_blocks(std::span<const BlockLayout> blocks) {
  int units = 0, of_both = 0;
  for (const auto& block : blocks) {
    if (block.treated < 1 || block.control < 1) continue;
    units += block.treated + block.control;
    ++of_both;
  }
  return of_both >= 2 && units - of_both - 1 >= least_block_df;
}

StandEvidence stand_evidence_within_blocks(std::span<const StratumValue> first,
                                           std::span<const StratumValue> second, double lots_p,
                                           double d) {
  check_worth(d);
  StandEvidence evidence;
  evidence.units = static_cast<int>(first.size());
  evidence.against = static_cast<int>(second.size());
  evidence.worth = d;
  evidence.within = Within::blocks;
  evidence.t = t_within_strata(first, second, neither_level);
  evidence.lots_p = lots_p;
  return evidence;
}

BlocksToTell blocks_to_tell(std::span<const StratumValue> first,
                            std::span<const StratumValue> second, double d, double chance_wanted,
                            std::uint64_t seed) {
  check_worth(d);
  if (!(chance_wanted > 0 && chance_wanted < 1))
    throw std::domain_error("the chance wanted must lie between 0 and 1");
  BlocksToTell told;
  told.most_tried = layouts[std::size(layouts) - 1];
  const TTest t = t_within_strata(first, second);
  if (t.status != TStatus::ok) return told;
  std::set<int> blocks;
  for (const auto& values : {first, second})
    for (const auto& value : values) blocks.insert(value.stratum);
  const double now = static_cast<double>(blocks.size());
  const double units = static_cast<double>(first.size() + second.size()) / now;
  for (const int k : layouts) {
    const double df = std::floor(units * k) - k - 1;
    if (df < least_block_df) continue;
    const double se = t.se * std::sqrt(now / k);  // of the difference, were the spread known
    const double needed = student_t_quantile_upper(t_level / 2, df);
    const double reach = student_t_quantile_upper(t_level, df);
    Random random(seed + static_cast<std::uint64_t>(k));
    int decided = 0;
    for (int i = 0; i < drawn; ++i) {
      const double difference = t.difference + se * random.normal();
      const double seen = se * std::sqrt(random.gamma(df / 2) / (df / 2));
      decided += std::fabs(difference) >= needed * seen || std::fabs(difference) + reach * seen < d
                     ? 1
                     : 0;
    }
    told.chance = static_cast<double>(decided) / drawn;
    if (told.chance < chance_wanted) continue;
    told.blocks = k;
    break;
  }
  return told;
}

}  // namespace plumule::stats
