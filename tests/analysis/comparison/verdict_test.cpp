// Every ground of a verdict by itself, which goes before which, and the codes they give.
#include "analysis/comparison/verdict.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

using namespace plumule;
using namespace plumule::analysis;

namespace {

// A trial closed as planned, looked at to the end, of one trial and known jars.
Circumstances plain() {
  Circumstances made;
  made.open = false;
  return made;
}

stats::JudgedContrast judged(stats::StandClaim claim,
                             stats::ClaimGround ground = stats::ClaimGround::decided) {
  stats::JudgedContrast made;
  made.claim = claim;
  made.ground = ground;
  return made;
}
const auto more = judged(stats::StandClaim::more);
const auto undecided = judged(stats::StandClaim::none, stats::ClaimGround::too_small);
const auto tied = judged(stats::StandClaim::none, stats::ClaimGround::not_told_apart);

stats::SpeedEvidence days_of(double apart, double p, double half_width90) {
  stats::SpeedEvidence made;
  made.days.status = stats::SpeedStatus::compared;
  made.days.difference = apart;
  made.days.p = p;
  made.days.df = 30;
  made.days.se = half_width90 / 1.697;  // of a t on 30
  made.days.lower90 = apart - half_width90;
  made.days.upper90 = apart + half_width90;
  made.days.sowings = made.days.against = 4;
  return made;
}

// Gaps in which either may have been the sooner.
stats::GapAllowance blind_gaps() {
  stats::GapAllowance made;
  made.earliest = -3;
  made.latest = 3;
  return made;
}

StandGround ground(const Circumstances& c, int units, int against,
                   const stats::JudgedContrast& figures) {
  return stand_verdict(c, false, units, against, figures).ground;
}

SpeedVerdict speed(const stats::SpeedEvidence& sown,
                   const std::optional<stats::SpeedEvidence>& wetted = std::nullopt) {
  return speed_verdict(plain(), false, sown.days, stats::claim_days(sown),
                       wetted ? std::optional(stats::claim_days(*wetted)) : std::nullopt);
}

}  // namespace

TEST_CASE("what the figures bear out is the verdict on the stand, and says on what ground") {
  const auto of = [](const stats::JudgedContrast& figures) {
    return stand_verdict(plain(), false, 4, 4, figures);
  };
  CHECK(of(more).code == StandCode::more);
  CHECK(of(more).ground == StandGround::by_model);
  CHECK(of(judged(stats::StandClaim::fewer)).code == StandCode::fewer);
  const auto alike = of(judged(stats::StandClaim::neither));
  CHECK(alike.code == StandCode::neither);
  CHECK(alike.ground == StandGround::by_model);
  CHECK(of(undecided).code == StandCode::too_small);
  CHECK(of(undecided).ground == StandGround::nothing_decided);
  CHECK(of(judged(stats::StandClaim::none, stats::ClaimGround::weak_evidence)).ground ==
        StandGround::weak_evidence);
}

TEST_CASE("what withholds a claim on the stand, each before the next") {
  auto all = plain();
  all.open = true;
  all.jars_partly_known = true;
  all.looked_to_the_end = false;
  CHECK(stand_verdict(all, false, 4, 0, tied).code == StandCode::open);
  CHECK(ground(all, 4, 0, tied) == StandGround::trial_open);
  all.open = false;
  CHECK(ground(all, 4, 0, tied) == StandGround::jars_partly_known);
  all.several_trials = true;  // of which nothing is claimed anyway
  CHECK(ground(all, 4, 0, tied) == StandGround::no_sowings);
  CHECK(stand_verdict(all, false, 4, 4, std::nullopt).ground == StandGround::no_sowings);
  CHECK(ground(all, 1, 4, tied) == StandGround::confounded);
  CHECK(ground(all, 1, 4, more) == StandGround::several_trials);
  CHECK(stand_verdict(all, true, 4, 4, more).ground == StandGround::confounded);
  all.several_trials = all.jars_partly_known = false;
  CHECK(ground(all, 1, 4, more) == StandGround::single_unit);
  const auto lone = judged(stats::StandClaim::none, stats::ClaimGround::single_unit);
  CHECK(ground(all, 4, 4, lone) == StandGround::single_unit);
  CHECK(ground(all, 4, 1, more) == StandGround::single_unit);
  CHECK(ground(all, 4, 4, more) == StandGround::not_settled);
  all.looked_to_the_end = true;
  CHECK(stand_verdict(all, false, 4, 4, more).code == StandCode::more);
  CHECK(stand_verdict(all, false, 4, 1, more).code == StandCode::too_small);
}

TEST_CASE("a verdict says what it went by") {
  const auto of = [](const stats::JudgedContrast& figures, int comparisons, bool looked) {
    return judged_by(stand_verdict(plain(), false, 4, 4, figures), comparisons, looked);
  };
  CHECK(of(more, 1, false) == "standardised");
  CHECK(of(more, 3, false) == "standardised+holm");
  CHECK(of(more, 3, true) == "standardised+holm+bayes-factor");
  CHECK(of(judged(stats::StandClaim::neither), 1, true) == "standardised");
  CHECK(of(undecided, 1, false) == "standardised");
  CHECK(of(tied, 1, false).empty());
  CHECK(judged_by(stand_verdict(plain(), false, 1, 4, more), 1, false).empty());
}

TEST_CASE("a claim on the days, one that is less than a day, and neither") {
  const auto sooner = speed(days_of(-2, 0.01, 1.2));
  CHECK(sooner.code == SpeedCode::sooner);
  CHECK(sooner.ground == SpeedGround::t_on_sowings);
  CHECK_FALSE(sooner.less_than_a_day);
  CHECK(speed(days_of(-0.5, 0.01, 0.3)).less_than_a_day);
  CHECK_FALSE(speed(days_of(-0.9, 0.01, 0.3)).less_than_a_day);
  CHECK(speed(days_of(2, 0.01, 1.2)).code == SpeedCode::later);
  const auto alike = speed(days_of(0.1, 0.6, 0.5));
  CHECK(alike.code == SpeedCode::neither);
  CHECK(alike.ground == SpeedGround::within_one_day);
  CHECK_FALSE(alike.less_than_a_day);
  CHECK(speed(days_of(1, 0.2, 2)).ground == SpeedGround::nothing_decided);
}

TEST_CASE("sooner needs both clocks, later is said of sowing") {
  const auto ahead = days_of(-2, 0.01, 1.2), level = days_of(0.1, 0.6, 0.5),
             behind = days_of(2, 0.01, 1.2);
  CHECK(speed(ahead, ahead).code == SpeedCode::sooner);
  const auto one = speed(ahead, level);
  CHECK(one.code == SpeedCode::sooner_after_sowing);
  CHECK_FALSE(one.both_clocks);
  CHECK(speed(behind, behind).both_clocks);
  const auto later = speed(behind, level);
  CHECK(later.code == SpeedCode::later);
  CHECK_FALSE(later.both_clocks);
}

TEST_CASE("long gaps take back what the middles of them say") {
  for (auto evidence : {days_of(-2, 0.01, 1.2), days_of(0.1, 0.6, 0.5)}) {
    evidence.gaps = blind_gaps();
    CHECK(speed(evidence).code == SpeedCode::too_small);
    CHECK(speed(evidence).ground == SpeedGround::uneven_looks);
  }
  auto unsure = days_of(1, 0.2, 2);
  unsure.gaps = blind_gaps();
  CHECK(speed(unsure).ground == SpeedGround::nothing_decided);
}

TEST_CASE("what withholds a claim on the days, each before the next") {
  const auto of = [](const Circumstances& c, bool confounded, const stats::SpeedEvidence& e) {
    return speed_verdict(c, confounded, e.days, stats::claim_days(e), std::nullopt).ground;
  };
  auto nothing = days_of(-2, 0.01, 1.2);
  nothing.days.status = stats::SpeedStatus::nothing_up;
  auto flat = nothing;
  flat.days.status = stats::SpeedStatus::no_variance;
  auto single = days_of(-2, 0.01, 1.2);
  single.days.sowings = 1;
  auto all = plain();
  all.open = all.jars_partly_known = true;
  all.looked_to_the_end = false;
  CHECK(of(all, true, nothing) == SpeedGround::trial_open);
  all.open = false;
  CHECK(of(all, true, nothing) == SpeedGround::jars_partly_known);
  all.several_trials = true;
  CHECK(of(all, true, nothing) == SpeedGround::nothing_up);
  CHECK(of(all, true, flat) == SpeedGround::confounded);
  CHECK(of(all, false, flat) == SpeedGround::several_trials);
  all.several_trials = all.jars_partly_known = false;
  CHECK(of(all, false, flat) == SpeedGround::no_variance);
  CHECK(of(all, false, single) == SpeedGround::single_unit);
  // A claim stands though nobody looked near the end; that they are alike does not.
  CHECK(of(all, false, days_of(-2, 0.01, 1.2)) == SpeedGround::t_on_sowings);
  CHECK(of(all, false, days_of(0.1, 0.6, 0.5)) == SpeedGround::not_settled);
}

TEST_CASE("codes of verdicts, claims joined") {
  const auto code = [](StandCode stand, SpeedCode of_days,
                       std::optional<StandCode> standing = std::nullopt) {
    Verdicts all;
    all.came_up = {stand, StandGround::nothing_decided};
    if (standing) all.standing = StandVerdict{*standing, StandGround::nothing_decided};
    all.speed = {of_days, SpeedGround::nothing_decided};
    return joint_code(all);
  };
  CHECK(code(StandCode::more, SpeedCode::sooner) == "more+sooner");
  CHECK(code(StandCode::fewer, SpeedCode::sooner_after_sowing) == "fewer+sooner-after-sowing");
  CHECK(code(StandCode::neither, SpeedCode::later) == "later");
  CHECK(code(StandCode::more, SpeedCode::too_small) == "more");
  CHECK(code(StandCode::neither, SpeedCode::neither) == "neither");
  CHECK(code(StandCode::neither, SpeedCode::too_small) == "too-small");
  CHECK(code(StandCode::too_small, SpeedCode::neither) == "too-small");
  CHECK(code(StandCode::open, SpeedCode::open) == "open");
  // What stands, where it is not what came up.
  CHECK(code(StandCode::more, SpeedCode::sooner, StandCode::fewer) == "more+fewer-standing+sooner");
  CHECK(code(StandCode::more, SpeedCode::too_small, StandCode::more) == "more");
  CHECK(code(StandCode::more, SpeedCode::too_small, StandCode::too_small) == "more");
  CHECK(code(StandCode::too_small, SpeedCode::too_small, StandCode::fewer) == "fewer-standing");
  CHECK(code(StandCode::neither, SpeedCode::neither, StandCode::too_small) == "too-small");
  CHECK(code(StandCode::neither, SpeedCode::neither, StandCode::neither) == "neither");
  Verdicts over;
  over.came_up = {StandCode::too_small, StandGround::several_trials};
  over.speed = {SpeedCode::too_small, SpeedGround::nothing_up};
  CHECK(joint(over) == Joint::several_trials);
  CHECK(joint_code(over) == "too-small");
}

TEST_CASE("no two codes, and no two grounds, are called alike") {
  std::set<std::string> stand, days;
  for (int i = 0; i <= static_cast<int>(StandGround::nothing_decided); ++i)
    CHECK(stand.emplace(word(static_cast<StandGround>(i))).second);
  for (int i = 0; i <= static_cast<int>(SpeedGround::nothing_decided); ++i)
    CHECK(days.emplace(word(static_cast<SpeedGround>(i))).second);
  std::set<std::string> codes, days_codes;
  for (int i = 0; i <= static_cast<int>(StandCode::open); ++i)
    CHECK(codes.emplace(word(static_cast<StandCode>(i))).second);
  for (int i = 0; i <= static_cast<int>(SpeedCode::open); ++i)
    CHECK(days_codes.emplace(word(static_cast<SpeedCode>(i))).second);
}

TEST_CASE("where lots or the range seem to say another thing") {
  stats::Interval clear, over_zero;
  clear.lower = 0.1;
  clear.upper = 0.4;
  over_zero.lower = -0.1;
  over_zero.upper = 0.4;
  stats::Randomisation lots;
  lots.status = stats::RandomisationStatus::ok;
  lots.p = 0.2;
  lots.smallest_p = 0.1;
  const StandVerdict claim{StandCode::more, StandGround::by_model};
  const StandVerdict unsure{StandCode::too_small, StandGround::nothing_decided};
  CHECK(discord(claim, 1, clear, lots) == Discord::lots_cannot_tell);
  lots.smallest_p = 0.01;
  CHECK(discord(claim, 1, clear, lots) == Discord::lots_would_not);
  CHECK(discord(unsure, 3, clear, lots) == Discord::beside_others);
  CHECK(discord(unsure, 1, clear, lots) == Discord::none);
  CHECK(discord(unsure, 3, over_zero, lots) == Discord::none);
  auto up_to_zero = clear, from_zero = clear;  // not clear of 0
  up_to_zero.lower = -0.2;
  up_to_zero.upper = 0;
  from_zero.lower = 0;
  CHECK(discord(unsure, 3, up_to_zero, lots) == Discord::none);
  CHECK(discord(unsure, 3, from_zero, lots) == Discord::none);
  up_to_zero.upper = -0.01;
  CHECK(discord(unsure, 3, up_to_zero, lots) == Discord::beside_others);
  auto narrow = clear;
  narrow.level = 0.5;  // clear of 0 at that level only
  CHECK(discord(unsure, 3, narrow, lots) == Discord::none);
  lots.p = 0.05;
  CHECK(discord(claim, 1, clear, lots) == Discord::none);
  CHECK(discord(unsure, 1, over_zero, lots) == Discord::lots_would);
  CHECK(discord(unsure, 1, std::nullopt, lots) == Discord::none);
  for (const auto ground : {StandGround::confounded, StandGround::weak_evidence})
    CHECK(discord({StandCode::too_small, ground}, 3, clear, lots) == Discord::none);
}

TEST_CASE("7 points are within reach") {
  CHECK(out_of_reach(0.05));
  CHECK_FALSE(out_of_reach(0.07));
}
