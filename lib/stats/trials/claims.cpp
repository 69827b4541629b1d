#include "stats/trials/claims.hpp"

#include <algorithm>

#include "stats/inference/multiplicity.hpp"
#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

bool can_be_judged(const SpeedDifference& days) {
  return days.status == SpeedStatus::compared && days.sowings >= 2 && days.against >= 2 && days.p;
}

// The larger of two one-sided p values: of a day or more sooner, and of a day or more later.
double apart_p(const SpeedDifference& days) {
  return std::max(student_t_upper((worth_days - *days.difference) / *days.se, *days.df),
                  student_t_upper((worth_days + *days.difference) / *days.se, *days.df));
}

SpeedClaim by_days(const SpeedDifference& days, const JudgedSpeed& judged) {
  if (*judged.claim_p <= t_level && *days.difference != 0)
    return *days.difference < 0 ? SpeedClaim::sooner : SpeedClaim::later;
  return *judged.within_p <= t_level ? SpeedClaim::neither : SpeedClaim::none;
}

bool allowed(SpeedClaim claim, const std::optional<GapAllowance>& gaps) {
  if (!gaps) return true;
  return claim == SpeedClaim::sooner  ? gaps->sooner()
         : claim == SpeedClaim::later ? gaps->later()
                                      : gaps->within(worth_days);
}

}  // namespace

std::vector<JudgedSpeed> claim_days_together(std::span<const SpeedEvidence> differences) {
  std::vector<double> claims, apart;
  for (const auto& one : differences) {
    if (!can_be_judged(one.days)) continue;
    claims.push_back(*one.days.p);
    apart.push_back(std::clamp(apart_p(one.days), 0.0, 1.0));
  }
  const auto claim_p = holm(claims), within_p = holm(apart);
  std::vector<JudgedSpeed> made;
  std::size_t judged = 0;
  for (const auto& one : differences) {
    auto& speed = made.emplace_back();
    if (!can_be_judged(one.days)) continue;
    speed.claim_p = claim_p[judged];
    speed.within_p = within_p[judged++];
    speed.by_days = by_days(one.days, speed);
    if (allowed(speed.by_days, one.gaps)) speed.claim = speed.by_days;
  }
  return made;
}

JudgedSpeed claim_days(const SpeedEvidence& difference) {
  return claim_days_together({&difference, 1}).front();
}

}  // namespace plumule::stats
