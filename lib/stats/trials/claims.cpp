#include "stats/trials/claims.hpp"

#include <algorithm>

namespace plumule::stats {
namespace {

bool borne_out(const TTest& t) { return t.status == TStatus::ok && t.p <= t_level; }

StandClaim claim_within_blocks(const StandEvidence& evidence) {
  const TTest& t = evidence.t;
  if (t.status == TStatus::too_few) return StandClaim::none;
  const bool varies = t.status == TStatus::ok;
  const bool by_lots = evidence.lots_p.value_or(1) <= t_level && t.difference != 0;
  if (varies ? t.p <= t_level : by_lots)
    return t.difference > 0 ? StandClaim::more : StandClaim::fewer;
  const bool near =
      varies && t.interval.lower > -evidence.worth && t.interval.upper < evidence.worth;
  return near ? StandClaim::neither : StandClaim::none;
}

// The t within sources agrees with the posterior's sign, where it must.
bool sources_agree(const StandEvidence& evidence, bool more) {
  if (evidence.within != Within::sources) return true;
  return borne_out(evidence.t) && (more ? evidence.t.difference > 0 : evidence.t.difference < 0);
}

bool significant(const SpeedDifference& x, double sign) {
  return x.p && *x.p <= t_level && x.difference && *x.difference * sign > 0;
}

}  // namespace

bool sure_of_a_sign(const PosteriorChances& chances) {
  return std::max(chances.better, 1 - chances.better) >= sure_of_sign;
}

StandClaim stand_claim(const StandEvidence& evidence) {
  if (evidence.within == Within::blocks) return claim_within_blocks(evidence);
  if (evidence.units < 2 || evidence.against < 2 || !evidence.chances) return StandClaim::none;
  const bool more = evidence.chances->better >= 0.5;
  const bool factor = evidence.bayes_factor && *evidence.bayes_factor >= factor_needed;
  const bool by_figures = evidence.after_looking ? factor
                          : evidence.t_p()
                              ? sure_of_a_sign(*evidence.chances) && borne_out(evidence.t)
                              : sure_of_a_sign(*evidence.chances) && factor;
  if (by_figures && sources_agree(evidence, more))
    return more ? StandClaim::more : StandClaim::fewer;
  const bool near = evidence.within == Within::nothing && evidence.chances->within >= sure_within;
  return near ? StandClaim::neither : StandClaim::none;
}

SpeedClaim claim_of_days(const SpeedDifference& days) {
  if (days.status != SpeedStatus::compared || days.sowings < 2 || days.against < 2)
    return SpeedClaim::none;
  if (significant(days, -1)) return SpeedClaim::sooner;
  if (significant(days, 1)) return SpeedClaim::later;
  const bool near = days.lower90 && *days.lower90 >= -worth_days && *days.upper90 <= worth_days;
  return near ? SpeedClaim::neither : SpeedClaim::none;
}

SpeedClaim speed_claim(const SpeedEvidence& evidence) {
  const SpeedClaim claim = claim_of_days(evidence.days);
  if (!evidence.gaps) return claim;
  const GapAllowance& gaps = *evidence.gaps;
  const bool allowed = claim == SpeedClaim::sooner  ? gaps.sooner()
                       : claim == SpeedClaim::later ? gaps.later()
                                                    : gaps.within(worth_days);
  return allowed ? claim : SpeedClaim::none;
}

}  // namespace plumule::stats
