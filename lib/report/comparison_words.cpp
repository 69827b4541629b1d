#include "report/comparison_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/date.hpp"
#include "records/words.hpp"
#include "report/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::Contrast;
using analysis::SpeedCode;
using analysis::SpeedGround;
using stats::StandCode;
using stats::StandGround;

std::string stand_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& stand = contrast.stand;
  switch (stand.verdict.code) {
    case StandCode::more:
      return "more seedlings";
    case StandCode::fewer:
      return "fewer seedlings";
    case StandCode::neither:
      return "no difference in stand worth having";
    case StandCode::too_small:
    case StandCode::open:
      break;
  }
  switch (stand.verdict.ground) {
    case StandGround::no_sowings:
      return "no stand to compare";
    case StandGround::not_settled:
      return "nobody looked near the end, so the stand can't be told";
    case StandGround::confounded:
      return "the stand can't be told from " + confounded_with(finding);
    default:
      return "too small a trial to tell about the stand";
  }
}

// More looks would tell, not more trays: the days rest on long gaps, or all came at the same looks.
bool seldom_looked_at(const Contrast& contrast) {
  return contrast.speed.ground == SpeedGround::uneven_looks ||
         contrast.speed.ground == SpeedGround::no_variance;
}

// A claim that is sure and small: the 90 % range lies within one day, so that it is not worth
// having as well.
std::string less_than_a_day(const stats::SpeedDifference& x) {
  if (!x.difference || !x.lower90 || !x.upper90) return "";
  if (*x.lower90 < -1 || *x.upper90 > 1) return "";
  const std::string by = days(std::fabs(*x.difference));
  return by == "0.0" ? ", by less than 0.1 days" : fmt::format(", by {} days: less than a day", by);
}

std::string speed_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const std::string little = less_than_a_day(contrast.speed.mean_days.difference);
  switch (contrast.speed.code) {
    case SpeedCode::sooner:
      return "sooner" + little;
    case SpeedCode::sooner_after_sowing:
      return "sooner after sowing only (counted from wetting nothing was gained for sure)";
    case SpeedCode::later:
      return contrast.speed.both_clocks
                 ? "later" + little
                 : "later after sowing only (counted from wetting nothing was lost for sure)";
    case SpeedCode::neither:
      return "no difference in days worth having";
    case SpeedCode::too_small:
    case SpeedCode::open:
      break;
  }
  return contrast.speed.ground == SpeedGround::nothing_up ? "no days to compare"
         : contrast.speed.ground == SpeedGround::confounded
             ? "the days can't be told from " + confounded_with(finding)
         : seldom_looked_at(contrast) ? "looked at too seldom to tell the days"
                                      : "too small a trial to tell about the days";
}

// Which of the two has no final stand.
std::string no_stand_of(const Contrast& contrast) {
  const bool first = contrast.stand.units == 0;
  const bool second = contrast.stand.units_against == 0;
  if (first && second) return "neither has a final stand";
  return (first ? contrast.treatment : contrast.against) + " has no final stand";
}

}  // namespace

// Whether nothing is claimed for the trials being several.
bool over_trials(const Contrast& contrast) {
  return contrast.stand.verdict.ground == StandGround::several_trials ||
         contrast.speed.ground == SpeedGround::several_trials;
}

// What every sowing of the one differs in from every sowing of the other.
std::string confounded_with(const analysis::TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  if (layout.sources.size() < 2) return "the block";
  return layout.several_lots ? "the seed lot" : "the trial";
}

bool claims_stand(const Contrast& contrast) {
  return contrast.stand.verdict.code == StandCode::more ||
         contrast.stand.verdict.code == StandCode::fewer;
}

bool claims_speed(const Contrast& contrast) {
  const auto code = contrast.speed.code;
  return code == SpeedCode::sooner || code == SpeedCode::sooner_after_sowing ||
         code == SpeedCode::later;
}

std::string unit_name(const analysis::TreatmentComparison& finding) {
  std::string name;
  for (const auto& sowing : finding.layout.sowings) {
    const std::string one(records::word(sowing.setting));
    if (!name.empty() && name != one) return "sowing";
    name = one == "cells" ? "sowing" : one;
  }
  return name.empty() ? "sowing" : name;
}

std::string block_name(const analysis::TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  if (layout.blocks_recorded && !layout.jar_across_blocks) return "block";
  return layout.several_lots ? "seed lot" : "trial";
}

std::string verdict_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const std::string head = contrast.treatment + " against " + contrast.against + ": ";
  if (finding.state.open())
    return head + "no verdict while the trial is open. " + so_far_words(finding, contrast);
  if (over_trials(contrast)) return head + "no verdict over several trials taken together.";
  if (contrast.stand.verdict.ground == StandGround::jars_partly_known)
    return head + "no verdict, for the jars are recorded of some only.";
  const std::string stand = stand_words(finding, contrast);
  const std::string speed = speed_words(finding, contrast);
  if (contrast.code == "neither")
    return head + fmt::format("neither more nor sooner (less than {} points and one day).",
                              std::lround(100 * finding.worth));
  if (contrast.code == "too-small") {
    if (contrast.stand.verdict.code == StandCode::neither) return head + stand + "; " + speed + ".";
    if (contrast.speed.code == SpeedCode::neither) return head + speed + "; " + stand + ".";
    if (seldom_looked_at(contrast)) return head + stand + "; " + speed + ".";
    if (contrast.stand.verdict.ground == StandGround::confounded)
      return head + stand + ", nor can the days.";
    if (contrast.stand.verdict.ground == StandGround::not_settled)
      return head + stand + "; " + speed + ".";
    if (contrast.stand.verdict.ground == StandGround::no_sowings) {
      if (contrast.speed.ground == SpeedGround::nothing_up)
        return head + "nothing to go by; " + no_stand_of(contrast) + ".";
      return head + stand + "; " + speed + ".";
    }
    return head + "too small a trial to tell.";
  }
  if (claims_stand(contrast) && claims_speed(contrast))
    return head + stand + ", and " + speed + ".";
  if (claims_stand(contrast)) return head + stand + "; " + speed + ".";
  return head + speed + "; " + stand + ".";
}

std::string holm_words(const analysis::Adjusted& holm) {
  const auto one = [](const std::optional<double>& p) { return p ? p_value(*p) : "none"; };
  return fmt::format("stand: t {}, lots {}; days: t {}", one(holm.t), one(holm.randomisation),
                     one(holm.days));
}

std::string looks_words(std::span<const Contrast> contrasts) {
  stats::LookGaps all;
  double least_spread = 0;
  std::size_t modelled = 0;
  std::string names;
  std::size_t uneven = 0;
  for (const Contrast& contrast : contrasts) {
    const auto& looks = contrast.speed.looks;
    if (!looks.uneven || !contrast.speed.mean_days.difference.difference) continue;
    all.shortest = uneven == 0 ? looks.shortest : std::min(all.shortest, looks.shortest);
    all.longest = std::max(all.longest, looks.longest);
    least_spread = uneven == 0 ? looks.spread : std::min(least_spread, looks.spread);
    all.spread = std::max(all.spread, looks.spread);
    if (contrast.speed.gaps && contrast.speed.gaps->ratio) ++modelled;
    names += (uneven == 0 ? "" : ", ") + contrast.treatment;
    ++uneven;
  }
  if (uneven == 0) return "";
  const std::string shortest = days(all.shortest);
  const std::string longest = days(all.longest);
  std::string text = uneven == contrasts.size() ? "" : names + ": ";
  text += shortest == longest
              ? fmt::format("Looks were {} days apart", longest)
              : fmt::format("Looks were {} to {} days apart while they came", shortest, longest);
  const std::string spread = days(all.spread);
  if (all.spread > 0)
    text += fmt::format(", and the days of one treatment spread by {}{}",
                        days(least_spread) == spread ? "" : days(least_spread) + " to ", spread);
  text += ": the middle of a gap is a poor guess of the day. ";
  if (modelled > 0)
    text += fmt::format(
        "Go by the time of the model{}, which allows for gaps; a verdict on the days needs both.",
        modelled < uneven ? ", where there is one" : "");
  else
    text += "There were too few looks while they came up to tell their days well.";
  return text;
}

std::string so_far_words(const analysis::TreatmentComparison&, const Contrast& contrast) {
  if (!contrast.evidence) return "";
  const auto& test = contrast.evidence->sequential;
  if (test.status == stats::SequentialStatus::one_treatment)
    return "No block holds both, so nothing can be said of them yet.";
  if (!test.can_claim)
    return fmt::format(
        "This layout can't tell them apart while it is open: the least p it can "
        "give is {}.",
        chance_of_layout(test.smallest_p, static_cast<double>(test.arrangements)));
  if (test.status == stats::SequentialStatus::no_looks)
    return "No day yet on which every sowing was counted.";
  if (test.claimed)
    return fmt::format(
        "They are coming up differently (sooner, more, or both), said since {}: {} "
        "is ahead.",
        records::spoken(*contrast.evidence->claimed_on),
        test.first_ahead ? contrast.treatment : contrast.against);
  return "So far they can't be said to be coming up differently.";
}

namespace {

// Where nobody looked on the day it closed.
std::string last_look_words(const analysis::TrialState& state) {
  if (!state.last_look || !state.closed_on || *state.last_look >= *state.closed_on) return "";
  return fmt::format("; last counted on day {} of {}", (*state.last_look - state.first_day).count(),
                     state.openness.planned_last_day);
}

}  // namespace

std::string state_words(const analysis::TreatmentComparison& finding) {
  const auto& state = finding.state;
  const auto& openness = state.openness;
  if (state.open())
    return fmt::format("open until {}{}", records::spoken(state.planned_last_day, true),
                       openness.source == stats::PlannedDay::planned ? ""
                       : openness.source == stats::PlannedDay::give_up
                           ? " (the crop's give-up day)"
                           : " (four weeks after the last sowing)");
  const std::string when =
      state.closed_on ? " " + records::spoken(*state.closed_on, true) : std::string();
  switch (openness.by) {
    case stats::ClosedBy::planned_day:
      return "closed" + when +
             (openness.source == stats::PlannedDay::planned ? " as planned"
              : openness.source == stats::PlannedDay::give_up
                  ? ", the crop's give-up day"
                  : ", four weeks after the last sowing") +
             last_look_words(state);
    case stats::ClosedBy::quiet:
      return "closed" + when + ", nothing new having come";
    case stats::ClosedBy::hand:
      return "closed" + when + " by hand, before its planned day (" +
             records::spoken(state.planned_last_day, true) + ")" + last_look_words(state);
    case stats::ClosedBy::nothing:
      break;
  }
  return "closed" + when;
}

}  // namespace plumule::report
