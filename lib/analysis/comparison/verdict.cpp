#include "analysis/comparison/verdict.hpp"

namespace plumule::analysis {

namespace {

using stats::ClaimGround;
using stats::SpeedClaim;
using stats::StandClaim;

StandVerdict withheld(StandGround ground) { return {StandCode::too_small, ground}; }
SpeedVerdict withheld(SpeedGround ground) { return {SpeedCode::too_small, ground}; }

// Jars matter within one trial: of several nothing is claimed anyway.
bool units_unknown(const Circumstances& circumstances) {
  return circumstances.jars_partly_known && !circumstances.several_trials;
}

StandVerdict by_figures(const stats::JudgedContrast& judged) {
  switch (judged.claim) {
    case StandClaim::more:
      return {StandCode::more, StandGround::by_model};
    case StandClaim::fewer:
      return {StandCode::fewer, StandGround::by_model};
    case StandClaim::neither:
      return {StandCode::neither, StandGround::by_model};
    case StandClaim::none:
      break;
  }
  return withheld(judged.ground == ClaimGround::weak_evidence ? StandGround::weak_evidence
                                                              : StandGround::nothing_decided);
}

bool within_a_day(const stats::SpeedDifference& days) {
  return days.lower90 && days.upper90 && *days.lower90 >= -stats::worth_days &&
         *days.upper90 <= stats::worth_days;
}

// By both clocks, where seed was wetted before; that days are alike needs looks to the end.
SpeedVerdict by_figures(const stats::SpeedDifference& days, const stats::JudgedSpeed& sown,
                        const std::optional<stats::JudgedSpeed>& wetted, bool looked_on) {
  const bool both_clocks = !wetted || wetted->claim == sown.claim;
  switch (sown.claim) {
    case SpeedClaim::sooner:
      return {both_clocks ? SpeedCode::sooner : SpeedCode::sooner_after_sowing,
              SpeedGround::t_on_sowings, both_clocks, within_a_day(days)};
    case SpeedClaim::later:
      return {SpeedCode::later, SpeedGround::t_on_sowings, both_clocks, within_a_day(days)};
    case SpeedClaim::neither:
      return looked_on ? SpeedVerdict{SpeedCode::neither, SpeedGround::within_one_day}
                       : withheld(SpeedGround::not_settled);
    case SpeedClaim::none:
      break;
  }
  return withheld(sown.by_days == SpeedClaim::none ? SpeedGround::nothing_decided
                                                   : SpeedGround::uneven_looks);
}

}  // namespace

StandVerdict stand_verdict(const Circumstances& circumstances, bool parted, int units, int against,
                           const std::optional<stats::JudgedContrast>& judged) {
  if (circumstances.open) return {StandCode::open, StandGround::trial_open};
  if (units_unknown(circumstances)) return withheld(StandGround::jars_partly_known);
  if (units < 1 || against < 1 || !judged) return withheld(StandGround::no_sowings);
  if (parted || judged->ground == ClaimGround::not_told_apart)
    return withheld(StandGround::confounded);
  if (circumstances.several_trials) return withheld(StandGround::several_trials);
  if (units < 2 || against < 2 || judged->ground == ClaimGround::single_unit)
    return withheld(StandGround::single_unit);
  if (!circumstances.looked_to_the_end) return withheld(StandGround::not_settled);
  return by_figures(*judged);
}

SpeedVerdict speed_verdict(const Circumstances& circumstances, bool confounded,
                           const stats::SpeedDifference& days, const stats::JudgedSpeed& sown,
                           const std::optional<stats::JudgedSpeed>& wetted) {
  if (circumstances.open) return {SpeedCode::open, SpeedGround::trial_open};
  if (units_unknown(circumstances)) return withheld(SpeedGround::jars_partly_known);
  if (days.status == stats::SpeedStatus::nothing_up) return withheld(SpeedGround::nothing_up);
  if (confounded) return withheld(SpeedGround::confounded);
  if (circumstances.several_trials) return withheld(SpeedGround::several_trials);
  if (days.status == stats::SpeedStatus::no_variance) return withheld(SpeedGround::no_variance);
  if (days.status != stats::SpeedStatus::compared || days.sowings < 2 || days.against < 2)
    return withheld(SpeedGround::single_unit);
  return by_figures(days, sown, wetted, circumstances.looked_to_the_end);
}

bool claims(const StandVerdict& verdict) {
  return verdict.code == StandCode::more || verdict.code == StandCode::fewer;
}

bool claims(const SpeedVerdict& verdict) {
  return verdict.code == SpeedCode::sooner || verdict.code == SpeedCode::sooner_after_sowing ||
         verdict.code == SpeedCode::later;
}

Joint joint(const Verdicts& all) {
  const auto& [came_up, standing, speed] = all;
  if (came_up.code == StandCode::open || speed.code == SpeedCode::open) return Joint::open;
  if (came_up.ground == StandGround::several_trials || speed.ground == SpeedGround::several_trials)
    return Joint::several_trials;
  if (came_up.ground == StandGround::jars_partly_known) return Joint::jars_partly_known;
  if (claims(came_up) || claims(speed) || (standing && claims(*standing))) return Joint::claimed;
  const bool neither = came_up.code == StandCode::neither && speed.code == SpeedCode::neither &&
                       (!standing || standing->code == StandCode::neither);
  return neither ? Joint::neither : Joint::nothing_claimed;
}

std::string joint_code(const Verdicts& all) {
  switch (joint(all)) {
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
  std::string code;
  const auto add = [&](std::string_view claim, std::string_view of = "") {
    code.append(code.empty() ? "" : "+").append(claim).append(of);
  };
  const auto& [came_up, standing, speed] = all;
  if (claims(came_up)) add(word(came_up.code));
  if (standing && claims(*standing) && standing->code != came_up.code)
    add(word(standing->code), "-standing");
  if (claims(speed)) add(word(speed.code));
  return code;
}

std::string judged_by(const StandVerdict& verdict, int comparisons, bool after_looking) {
  if (verdict.ground != StandGround::by_model && verdict.ground != StandGround::weak_evidence &&
      verdict.ground != StandGround::nothing_decided)
    return "";
  std::string by(stats::method::standardised);
  if (comparisons > 1) by += "+holm";
  if (after_looking && verdict.code != StandCode::neither) by += "+bayes-factor";
  return by;
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
    case StandGround::by_model:
      return "stand-model";
    case StandGround::weak_evidence:
      return "weak-evidence";
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
         verdict.ground == StandGround::weak_evidence ||
         verdict.ground == StandGround::nothing_decided;
}

Discord discord(const StandVerdict& verdict, int comparisons,
                const std::optional<stats::Interval>& range,
                const std::optional<stats::Randomisation>& lots) {
  if (!range || !lots || lots->status != stats::RandomisationStatus::ok) return Discord::none;
  const bool lots_claim = lots->p <= stats::t_level;
  if (claims(verdict)) {
    if (lots_claim) return Discord::none;
    return lots->smallest_p > stats::t_level ? Discord::lots_cannot_tell : Discord::lots_would_not;
  }
  if (verdict.ground != StandGround::nothing_decided) return Discord::none;
  const bool clear = range->lower > 0 || range->upper < 0;
  if (clear && comparisons > 1 && range->level >= 1 - stats::t_level) return Discord::beside_others;
  return lots_claim ? Discord::lots_would : Discord::none;
}

bool out_of_reach(double worth) { return worth < 0.07; }

}  // namespace plumule::analysis
