#include "analysis/comparison/verdict.hpp"

namespace plumule::analysis {

namespace {

using stats::SpeedClaim;
using stats::StandClaim;

StandVerdict withheld(StandGround ground) { return {StandCode::too_small, ground}; }
SpeedVerdict withheld(SpeedGround ground) { return {SpeedCode::too_small, ground}; }

// Jars matter within one trial: of several nothing is claimed anyway.
bool units_unknown(const Circumstances& circumstances) {
  return circumstances.jars_partly_known && !circumstances.several_trials;
}

StandGround ground_of_claim(const stats::StandEvidence& evidence) {
  const bool varies = evidence.t_p().has_value();
  if (evidence.within == stats::Within::blocks)
    return varies ? StandGround::t_within_blocks : StandGround::lots_within_blocks;
  if (evidence.after_looking) return StandGround::bayes_factor;
  return varies ? StandGround::posterior_and_t : StandGround::posterior_and_factor;
}

StandVerdict by_figures(const stats::StandEvidence& evidence) {
  switch (stats::stand_claim(evidence)) {
    case StandClaim::more:
      return {StandCode::more, ground_of_claim(evidence)};
    case StandClaim::fewer:
      return {StandCode::fewer, ground_of_claim(evidence)};
    case StandClaim::neither:
      return {StandCode::neither, evidence.within == stats::Within::blocks
                                      ? StandGround::within_worth
                                      : StandGround::posterior_within};
    case StandClaim::none:
      break;
  }
  return withheld(StandGround::nothing_decided);
}

bool within_a_day(const stats::SpeedDifference& days) {
  return days.lower90 && days.upper90 && *days.lower90 >= -stats::worth_days &&
         *days.upper90 <= stats::worth_days;
}

// By both clocks, where seed was wetted before; that days are alike needs looks to the end.
SpeedVerdict by_figures(const stats::SpeedEvidence& sown,
                        const std::optional<stats::SpeedEvidence>& wetted, bool looked_on) {
  const SpeedClaim claim = stats::speed_claim(sown);
  const bool both_clocks = !wetted || stats::speed_claim(*wetted) == claim;
  switch (claim) {
    case SpeedClaim::sooner:
      return {both_clocks ? SpeedCode::sooner : SpeedCode::sooner_after_sowing,
              SpeedGround::t_on_sowings, both_clocks, within_a_day(sown.days)};
    case SpeedClaim::later:
      return {SpeedCode::later, SpeedGround::t_on_sowings, both_clocks, within_a_day(sown.days)};
    case SpeedClaim::neither:
      return looked_on ? SpeedVerdict{SpeedCode::neither, SpeedGround::within_one_day}
                       : withheld(SpeedGround::not_settled);
    case SpeedClaim::none:
      break;
  }
  return withheld(stats::claim_of_days(sown.days) == SpeedClaim::none ? SpeedGround::nothing_decided
                                                                      : SpeedGround::uneven_looks);
}

}  // namespace

StandVerdict stand_verdict(const Circumstances& circumstances, bool confounded,
                           const stats::StandEvidence& evidence) {
  if (circumstances.open) return {StandCode::open, StandGround::trial_open};
  if (units_unknown(circumstances)) return withheld(StandGround::jars_partly_known);
  if (evidence.units < 1 || evidence.against < 1) return withheld(StandGround::no_sowings);
  if (confounded) return withheld(StandGround::confounded);
  if (circumstances.several_trials) return withheld(StandGround::several_trials);
  if (evidence.units < 2 || evidence.against < 2) return withheld(StandGround::single_unit);
  if (!circumstances.looked_to_the_end) return withheld(StandGround::not_settled);
  return by_figures(evidence);
}

SpeedVerdict speed_verdict(const Circumstances& circumstances, bool confounded,
                           const stats::SpeedEvidence& sown,
                           const std::optional<stats::SpeedEvidence>& wetted) {
  const auto& days = sown.days;
  if (circumstances.open) return {SpeedCode::open, SpeedGround::trial_open};
  if (units_unknown(circumstances)) return withheld(SpeedGround::jars_partly_known);
  if (days.status == stats::SpeedStatus::nothing_up) return withheld(SpeedGround::nothing_up);
  if (confounded) return withheld(SpeedGround::confounded);
  if (circumstances.several_trials) return withheld(SpeedGround::several_trials);
  if (days.status == stats::SpeedStatus::no_variance) return withheld(SpeedGround::no_variance);
  if (days.status != stats::SpeedStatus::compared || days.sowings < 2 || days.against < 2)
    return withheld(SpeedGround::single_unit);
  return by_figures(sown, wetted, circumstances.looked_to_the_end);
}

bool claims(const StandVerdict& verdict) {
  return verdict.code == StandCode::more || verdict.code == StandCode::fewer;
}

bool claims(const SpeedVerdict& verdict) {
  return verdict.code == SpeedCode::sooner || verdict.code == SpeedCode::sooner_after_sowing ||
         verdict.code == SpeedCode::later;
}

Joint joint(const StandVerdict& stand, const SpeedVerdict& speed) {
  if (stand.code == StandCode::open || speed.code == SpeedCode::open) return Joint::open;
  if (stand.ground == StandGround::several_trials || speed.ground == SpeedGround::several_trials)
    return Joint::several_trials;
  if (stand.ground == StandGround::jars_partly_known) return Joint::jars_partly_known;
  if (claims(stand) || claims(speed)) return Joint::claimed;
  const bool both = stand.code == StandCode::neither && speed.code == SpeedCode::neither;
  return both ? Joint::neither : Joint::nothing_claimed;
}

std::string joint_code(const StandVerdict& stand, const SpeedVerdict& speed) {
  switch (joint(stand, speed)) {
    case Joint::open:
      return std::string(word(StandCode::open));
    case Joint::neither:
      return std::string(word(StandCode::neither));
    case Joint::claimed:
      break;
    case Joint::several_trials:
    case Joint::jars_partly_known:
    case Joint::nothing_claimed:
      return std::string(word(StandCode::too_small));
  }
  std::string code(claims(stand) ? word(stand.code) : "");
  if (!claims(speed)) return code;
  if (!code.empty()) code += '+';
  return code.append(word(speed.code));
}

std::string_view word(StandCode code) {
  switch (code) {
    case StandCode::more:
      return "more";
    case StandCode::fewer:
      return "fewer";
    case StandCode::neither:
      return "neither";
    case StandCode::too_small:
      return "too-small";
    case StandCode::open:
      break;
  }
  return "open";
}

std::string_view word(StandGround ground) {
  switch (ground) {
    case StandGround::trial_open:
      return "trial-open";
    case StandGround::jars_partly_known:
      return "jars-partly-known";
    case StandGround::no_sowings:
      return "no-sowings";
    case StandGround::confounded:
      return "confounded";
    case StandGround::several_trials:
      return "several-trials";
    case StandGround::single_unit:
      return "one-unit-each";
    case StandGround::not_settled:
      return "not-settled";
    case StandGround::t_within_blocks:
      return "t-within-blocks";
    case StandGround::lots_within_blocks:
      return "lots-within-blocks";
    case StandGround::within_worth:
      return "within-worth";
    case StandGround::bayes_factor:
      return "bayes-factor";
    case StandGround::posterior_and_t:
      return "posterior-and-t";
    case StandGround::posterior_and_factor:
      return "posterior-and-factor";
    case StandGround::posterior_within:
      return "posterior-within";
    case StandGround::nothing_decided:
      break;
  }
  return "nothing-decided";
}

std::string_view word(SpeedCode code) {
  switch (code) {
    case SpeedCode::sooner:
      return "sooner";
    case SpeedCode::sooner_after_sowing:
      return "sooner-after-sowing";
    case SpeedCode::later:
      return "later";
    case SpeedCode::neither:
      return "neither";
    case SpeedCode::too_small:
      return "too-small";
    case SpeedCode::open:
      break;
  }
  return "open";
}

std::string_view word(SpeedGround ground) {
  switch (ground) {
    case SpeedGround::trial_open:
      return "trial-open";
    case SpeedGround::jars_partly_known:
      return "jars-partly-known";
    case SpeedGround::nothing_up:
      return "nothing-up";
    case SpeedGround::confounded:
      return "confounded";
    case SpeedGround::several_trials:
      return "several-trials";
    case SpeedGround::no_variance:
      return "no-variance";
    case SpeedGround::single_unit:
      return "one-unit-each";
    case SpeedGround::t_on_sowings:
      return "t-on-sowings";
    case SpeedGround::uneven_looks:
      return "uneven-looks";
    case SpeedGround::not_settled:
      return "not-settled";
    case SpeedGround::within_one_day:
      return "within-one-day";
    case SpeedGround::nothing_decided:
      break;
  }
  return "nothing-decided";
}

bool more_would_tell(const StandVerdict& verdict) {
  return verdict.ground == StandGround::single_unit ||
         verdict.ground == StandGround::nothing_decided;
}

Discord discord(const StandVerdict& verdict, const stats::StandEvidence& evidence,
                const std::optional<stats::Interval>& range,
                const std::optional<stats::Randomisation>& lots) {
  if (!range || !lots || lots->status != stats::RandomisationStatus::ok) return Discord::none;
  const bool lots_claim = lots->p <= stats::t_level;
  if (claims(verdict)) {
    if (lots_claim) return Discord::none;
    return lots->smallest_p > stats::t_level ? Discord::lots_cannot_tell : Discord::lots_would_not;
  }
  if (verdict.ground == StandGround::confounded || verdict.ground == StandGround::not_settled)
    return Discord::none;
  const bool clear = range->lower > 0 || range->upper < 0;
  if (clear && evidence.units > 1 && evidence.against > 1)
    return evidence.after_looking || evidence.within != stats::Within::nothing
               ? Discord::none  // that is why, and is said by itself
               : Discord::range_clear;
  return lots_claim ? Discord::lots_would : Discord::none;
}

bool stands_beside_others(const std::optional<double>& holm_p) {
  return !holm_p || *holm_p <= stats::t_level;
}

bool out_of_reach(double worth) { return worth < 0.07; }

}  // namespace plumule::analysis
