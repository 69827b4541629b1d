// The rules in the order the header states them.
#include "stats/trials/speed_verdict.hpp"

namespace plumule::stats {
namespace {

constexpr double claim_p = 0.05;
constexpr double worth_days = 1;

bool significant(const SpeedDifference& x, double sign) {
  return x.status == SpeedStatus::compared && x.p && *x.p <= claim_p && x.difference &&
         *x.difference * sign > 0;
}

bool sooner(const SpeedEvidence& x) {
  return significant(x.days, -1) && (!x.gaps || x.gaps->sooner());
}

bool later(const SpeedEvidence& x) {
  return significant(x.days, 1) && (!x.gaps || x.gaps->later());
}

}  // namespace

SpeedVerdict speed_verdict(const SpeedEvidence& sown, const std::optional<SpeedEvidence>& wetted) {
  const auto& days = sown.days;
  if (days.status == SpeedStatus::nothing_up)
    return {SpeedCode::too_small, SpeedGround::nothing_up};
  if (days.status == SpeedStatus::no_variance)
    return {SpeedCode::too_small, SpeedGround::no_variance};
  if (days.status != SpeedStatus::compared || days.sowings < 2 || days.against < 2)
    return {SpeedCode::too_small, SpeedGround::single_unit};
  if (sooner(sown)) {
    const bool both = !wetted || sooner(*wetted);
    return {both ? SpeedCode::sooner : SpeedCode::sooner_after_sowing, SpeedGround::t_on_sowings,
            both};
  }
  if (later(sown)) return {SpeedCode::later, SpeedGround::t_on_sowings, !wetted || later(*wetted)};
  if (significant(days, -1) || significant(days, 1))
    return {SpeedCode::too_small, SpeedGround::uneven_looks};
  if (!(days.lower90 && *days.lower90 >= -worth_days && *days.upper90 <= worth_days)) return {};
  if (sown.gaps && !sown.gaps->within(worth_days))
    return {SpeedCode::too_small, SpeedGround::uneven_looks};
  return {SpeedCode::neither, SpeedGround::within_one_day};
}

}  // namespace plumule::stats
