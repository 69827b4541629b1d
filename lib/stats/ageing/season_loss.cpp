#include "stats/ageing/season_loss.hpp"

#include <algorithm>
#include <stdexcept>

namespace plumule::stats {

void check_costs(const SeasonCosts& costs) {
  for (const double cost :
       {costs.packet, costs.fetching, costs.crop, costs.late, costs.late_at_hand, costs.surplus,
        costs.test, costs.seed, costs.kept_packet})
    if (!(cost >= 0 && cost < 1e9)) throw std::domain_error("a cost must be 0 or more");
}

double season_loss(Way way, double times, double p, double standard, const SeasonCosts& costs) {
  if (way == Way::replace) return costs.packet + costs.fetching;
  const double stand = times * p / standard;
  const double missing = std::max(0.0, 1 - stand);
  const double thinned = costs.crop * costs.surplus * std::max(0.0, stand - 1);
  if (way == Way::sow)
    return std::min(costs.crop * missing, costs.crop * costs.late + costs.packet + costs.fetching) +
           thinned;
  return costs.fetching + costs.packet * (missing + (1 - missing) * costs.kept_packet) +
         costs.crop * costs.late_at_hand * missing + thinned;
}

}  // namespace plumule::stats
