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

// Four trays each, the first ahead by `apart`; a sure difference unless told otherwise.
stats::StandEvidence stand_of(double apart = 0.3, double better = 0.999, double within = 0.01) {
  stats::StandEvidence made;
  made.units = made.against = 4;
  made.chances = stats::PosteriorChances{better, 0.9, 0.0, within};
  made.t.status = stats::TStatus::ok;
  made.t.difference = apart;
  made.t.p = better > 0.975 || better < 0.025 ? 0.01 : 0.4;
  return made;
}

stats::StandEvidence within_blocks(double p, double lower, double upper) {
  auto made = stand_of();
  made.within = stats::Within::blocks;
  made.chances.reset();
  made.t.p = p;
  made.t.interval.lower = lower;
  made.t.interval.upper = upper;
  made.lots_p = 1.0 / 32;
  return made;
}

stats::SpeedEvidence days_of(double apart, double p, double half_width90) {
  stats::SpeedEvidence made;
  made.days.status = stats::SpeedStatus::compared;
  made.days.difference = apart;
  made.days.p = p;
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

StandGround ground(const Circumstances& c, bool confounded, const stats::StandEvidence& e) {
  return stand_verdict(c, confounded, e).ground;
}

SpeedVerdict speed(const stats::SpeedEvidence& sown,
                   const std::optional<stats::SpeedEvidence>& wetted = std::nullopt) {
  return speed_verdict(plain(), false, sown, wetted);
}

}  // namespace

TEST_CASE("a claim on the stand names what it rests on") {
  const auto more = stand_verdict(plain(), false, stand_of());
  CHECK(more.code == StandCode::more);
  CHECK(more.ground == StandGround::posterior_and_t);
  const auto fewer = stand_verdict(plain(), false, stand_of(-0.3, 0.001));
  CHECK(fewer.code == StandCode::fewer);
  auto flat = stand_of();
  flat.t.status = stats::TStatus::no_variance;
  CHECK(ground(plain(), false, flat) == StandGround::nothing_decided);
  flat.bayes_factor = 20;
  CHECK(ground(plain(), false, flat) == StandGround::posterior_and_factor);
  auto looked = stand_of();
  looked.after_looking = true;
  CHECK(ground(plain(), false, looked) == StandGround::nothing_decided);
  looked.bayes_factor = 25;
  CHECK(ground(plain(), false, looked) == StandGround::bayes_factor);
  const auto alike = stand_verdict(plain(), false, stand_of(0.01, 0.6, 0.96));
  CHECK(alike.code == StandCode::neither);
  CHECK(alike.ground == StandGround::posterior_within);
  CHECK(stand_verdict(plain(), false, stand_of(0.1, 0.8, 0.5)).code == StandCode::too_small);
}

TEST_CASE("a claim within blocks names the t, or the lots where nothing varies") {
  CHECK(ground(plain(), false, within_blocks(0.01, 0.1, 0.5)) == StandGround::t_within_blocks);
  CHECK(ground(plain(), false, within_blocks(0.5, -0.05, 0.06)) == StandGround::within_worth);
  CHECK(ground(plain(), false, within_blocks(0.5, -0.05, 0.2)) == StandGround::nothing_decided);
  auto flat = within_blocks(1, 0, 0);
  flat.t.status = stats::TStatus::no_variance;
  CHECK(ground(plain(), false, flat) == StandGround::lots_within_blocks);
}

TEST_CASE("what withholds a claim on the stand, each before the next") {
  auto bare = stand_of();
  bare.against = 0;
  auto single = stand_of();
  single.units = 1;
  auto all = plain();
  all.open = true;
  all.jars_partly_known = true;
  all.looked_to_the_end = false;
  CHECK(stand_verdict(all, true, bare).code == StandCode::open);
  CHECK(ground(all, true, bare) == StandGround::trial_open);
  all.open = false;
  CHECK(ground(all, true, bare) == StandGround::jars_partly_known);
  all.several_trials = true;  // of which nothing is claimed anyway
  CHECK(ground(all, true, bare) == StandGround::no_sowings);
  CHECK(ground(all, true, single) == StandGround::confounded);
  CHECK(ground(all, false, single) == StandGround::several_trials);
  all.several_trials = all.jars_partly_known = false;
  CHECK(ground(all, false, single) == StandGround::single_unit);
  CHECK(ground(all, false, stand_of()) == StandGround::not_settled);
  all.looked_to_the_end = true;
  CHECK(stand_verdict(all, false, stand_of()).code == StandCode::more);
  CHECK(stand_verdict(all, false, single).code == StandCode::too_small);
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
    return speed_verdict(c, confounded, e, std::nullopt).ground;
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
  const auto code = [](StandCode stand, SpeedCode of_days) {
    return joint_code({stand, StandGround::nothing_decided},
                      {of_days, SpeedGround::nothing_decided});
  };
  CHECK(code(StandCode::more, SpeedCode::sooner) == "more+sooner");
  CHECK(code(StandCode::fewer, SpeedCode::sooner_after_sowing) == "fewer+sooner-after-sowing");
  CHECK(code(StandCode::neither, SpeedCode::later) == "later");
  CHECK(code(StandCode::more, SpeedCode::too_small) == "more");
  CHECK(code(StandCode::neither, SpeedCode::neither) == "neither");
  CHECK(code(StandCode::neither, SpeedCode::too_small) == "too-small");
  CHECK(code(StandCode::too_small, SpeedCode::neither) == "too-small");
  CHECK(code(StandCode::open, SpeedCode::open) == "open");
  const StandVerdict over{StandCode::too_small, StandGround::several_trials};
  CHECK(joint(over, {SpeedCode::too_small, SpeedGround::nothing_up}) == Joint::several_trials);
  CHECK(joint_code(over, {SpeedCode::too_small, SpeedGround::nothing_up}) == "too-small");
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
  const StandVerdict more{StandCode::more, StandGround::posterior_and_t};
  const StandVerdict unsure{StandCode::too_small, StandGround::nothing_decided};
  CHECK(discord(more, stand_of(), clear, lots) == Discord::lots_cannot_tell);
  lots.smallest_p = 0.01;
  CHECK(discord(more, stand_of(), clear, lots) == Discord::lots_would_not);
  CHECK(discord(unsure, stand_of(), clear, lots) == Discord::range_clear);
  CHECK(discord(unsure, stand_of(), over_zero, lots) == Discord::none);
  auto looked = stand_of();
  looked.after_looking = true;  // that is why, and is said by itself
  CHECK(discord(unsure, looked, clear, lots) == Discord::none);
  lots.p = 0.05;
  CHECK(discord(more, stand_of(), clear, lots) == Discord::none);
  CHECK(discord(unsure, stand_of(), over_zero, lots) == Discord::lots_would);
  CHECK(discord(unsure, stand_of(), std::nullopt, lots) == Discord::none);
  const StandVerdict withheld{StandCode::too_small, StandGround::confounded};
  CHECK(discord(withheld, stand_of(), over_zero, lots) == Discord::none);
}

TEST_CASE("a claim stands beside the others at 5 %, and 7 points are within reach") {
  CHECK(stands_beside_others(0.05));
  CHECK_FALSE(stands_beside_others(0.051));
  CHECK(stands_beside_others(std::nullopt));
  CHECK(out_of_reach(0.05));
  CHECK_FALSE(out_of_reach(0.07));
}
