// The rules in the order the header states them.
#include "stats/trials/block_verdict.hpp"

#include <cmath>
#include <set>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/random.hpp"

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

StandVerdict stand_verdict_within_blocks(std::span<const StratumValue> first,
                                         std::span<const StratumValue> second, double lots_p,
                                         double d) {
  check_worth(d);
  StandVerdict verdict;
  const TTest t = t_within_strata(first, second, 0.90);
  if (t.status == TStatus::too_few) return verdict;
  verdict.within_blocks = t.difference;
  const bool varies = t.status == TStatus::ok;
  if (varies) verdict.t_p = t.p;
  const bool claim = varies ? t.p <= t_level : lots_p <= t_level && t.difference != 0;
  if (claim) {
    verdict.code = t.difference > 0 ? StandCode::more : StandCode::fewer;
    verdict.ground = varies ? StandGround::t_within_blocks : StandGround::lots_within_blocks;
  } else if (varies && t.interval.lower > -d && t.interval.upper < d) {
    verdict.code = StandCode::neither;
    verdict.ground = StandGround::within_worth;
  }
  return verdict;
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
