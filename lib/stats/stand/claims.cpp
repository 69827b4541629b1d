// See the header.
#include "stats/stand/claims.hpp"

#include <algorithm>

#include "stats/inference/multiplicity.hpp"

namespace plumule::stats {
namespace {

constexpr double level = 0.05;

ClaimGround obstacle(const StandContrast& contrast) {
  if (!contrast.told_apart) return ClaimGround::not_told_apart;
  if (contrast.units_first < 2 || contrast.units_second < 2) return ClaimGround::single_unit;
  return ClaimGround::too_small;
}

}  // namespace

std::vector<JudgedContrast> claim_together(std::span<const StandContrast> contrasts,
                                           Looking looking) {
  std::vector<double> tails, outside;
  for (const auto& one : contrasts) {
    if (!one.can_claim()) continue;
    tails.push_back(std::clamp(one.tail(), 0.0, 1.0));
    outside.push_back(std::clamp(1 - one.p_within, 0.0, 1.0));
  }
  const auto claim_p = holm(tails), within_p = holm(outside);
  std::vector<JudgedContrast> made;
  std::size_t judged = 0;
  for (const auto& one : contrasts) {
    auto& claim = made.emplace_back();
    claim.ground = obstacle(one);
    if (!one.can_claim()) continue;
    claim.claim_p = claim_p[judged];
    claim.within_p = within_p[judged++];
    const bool more = one.p_better > 0.5;
    if (claim.claim_p <= level && (more ? one.estimate > 0 : one.estimate < 0)) {
      if (looking == Looking::after_looking && one.bayes_factor < factor_needed)
        claim.ground = ClaimGround::weak_evidence;
      else
        claim.claim = more ? StandClaim::more : StandClaim::fewer;
    } else if (claim.within_p <= level) {
      claim.claim = StandClaim::neither;
    }
    if (claim.claim != StandClaim::none) claim.ground = ClaimGround::decided;
  }
  return made;
}

}  // namespace plumule::stats
