#include "report/comparison/comparison_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/date.hpp"
#include "records/words.hpp"
#include "report/comparison/trial_words.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::Contrast;
using analysis::Joint;
using analysis::SpeedCode;
using analysis::SpeedGround;
using analysis::StandCode;
using analysis::StandGround;

constexpr auto no_verdict_open = "no verdict while the trial is open";
constexpr auto no_verdict_trials = "no verdict over several trials taken together";
constexpr auto no_verdict_jars = "no verdict, for the jars are recorded of some only";

// Why nothing is claimed of what came up or stands, nor `neither`. `what`: how it is called.
std::string unclaimed_words(const analysis::TreatmentComparison& finding, const Contrast& contrast,
                            StandGround ground, const char* what) {
  switch (ground) {
    case StandGround::trial_open:
      return no_verdict_open;
    case StandGround::several_trials:
      return no_verdict_trials;
    case StandGround::jars_partly_known:
      return no_verdict_jars;
    case StandGround::no_sowings:
      return "no stand to compare";
    case StandGround::not_settled:
      return fmt::format("{}, so {} can't be told",
                         finding.state.closing.by == stats::ClosedBy::hand
                             ? "ended while more could still come"
                             : "nobody looked near the end",
                         what);
    case StandGround::confounded:
      return fmt::format("{} can't be told from the {}", what,
                         factor_words(contrast.stand.parted_by));
    default:
      return fmt::format("too small a trial to tell about {}", what);
  }
}

// Likewise of the days. Where they rest on long gaps, or all came at the same looks, more looks
// would tell, not more trays.
std::string unclaimed_words(const Contrast& contrast) {
  switch (contrast.verdicts.speed.ground) {
    case SpeedGround::trial_open:
      return no_verdict_open;
    case SpeedGround::several_trials:
      return no_verdict_trials;
    case SpeedGround::jars_partly_known:
      return no_verdict_jars;
    case SpeedGround::nothing_up:
      return "no days to compare";
    case SpeedGround::confounded:
      return "the days can't be told from the " + factor_words(contrast.speed.parted_by);
    case SpeedGround::not_settled:
      return "not looked at for long enough to tell the days";
    case SpeedGround::uneven_looks:
    case SpeedGround::no_variance:
      return "looked at too seldom to tell the days";
    default:
      return "too small a trial to tell about the days";
  }
}

std::string less_than_a_day(const Contrast& contrast) {
  if (!contrast.verdicts.speed.less_than_a_day) return "";
  const std::string by = days(std::fabs(*contrast.speed.mean_days.difference.difference));
  return by == "0.0" ? ", by less than 0.1 days" : fmt::format(", by {} days: less than a day", by);
}

// Which of the two has no final stand.
std::string no_stand_of(const Contrast& contrast) {
  const bool first = contrast.stand.units == 0;
  const bool second = contrast.stand.units_against == 0;
  if (first && second) return "neither has a final stand";
  return (first ? contrast.treatment : contrast.against) + " has no final stand";
}

std::string_view factor_word(analysis::Factor factor) {
  switch (factor) {
    case analysis::Factor::block:
      return "block";
    case analysis::Factor::lot:
      return "seed lot";
    case analysis::Factor::trial:
      return "trial";
    case analysis::Factor::place:
      return "place";
    case analysis::Factor::day:
      return "day of sowing";
    case analysis::Factor::setting:
      break;
  }
  return "setting";
}

}  // namespace

std::string stand_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& verdict = contrast.verdicts.came_up;
  const bool lost = contrast.verdicts.standing.has_value();
  switch (verdict.code) {
    case StandCode::more:
      return lost ? "more came up" : "more seedlings";
    case StandCode::fewer:
      return lost ? "fewer came up" : "fewer seedlings";
    case StandCode::neither:
      return lost ? "no difference worth having in what came up"
                  : "no difference in stand worth having";
    case StandCode::too_small:
    case StandCode::open:
      break;
  }
  return unclaimed_words(finding, contrast, verdict.ground, lost ? "what came up" : "the stand");
}

std::string standing_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& verdict = contrast.verdicts.standing;
  if (!verdict) return "";
  switch (verdict->code) {
    case StandCode::more:
      return "more stand";
    case StandCode::fewer:
      return "fewer stand";
    case StandCode::neither:
      return "no difference worth having in what stands";
    case StandCode::too_small:
    case StandCode::open:
      break;
  }
  return unclaimed_words(finding, contrast, verdict->ground, "what stands");
}

std::string speed_words(const Contrast& contrast) {
  const auto& verdict = contrast.verdicts.speed;
  switch (verdict.code) {
    case SpeedCode::sooner:
      return "sooner" + less_than_a_day(contrast);
    case SpeedCode::sooner_after_sowing:
      return "sooner after sowing only (counted from wetting nothing was gained for sure)";
    case SpeedCode::later:
      return verdict.both_clocks
                 ? "later" + less_than_a_day(contrast)
                 : "later after sowing only (counted from wetting nothing was lost for sure)";
    case SpeedCode::neither:
      return "no difference in days worth having";
    case SpeedCode::too_small:
    case SpeedCode::open:
      break;
  }
  return unclaimed_words(contrast);
}

std::string factor_words(const std::vector<analysis::Factor>& factors) {
  std::string text;
  for (std::size_t i = 0; i < factors.size(); ++i)
    text.append(i == 0                    ? ""
                : i + 1 == factors.size() ? " and "
                                          : ", ")
        .append(factor_word(factors[i]));
  return text;
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
  return factor_words(finding.layout.kept_apart);
}

namespace {

// What came up and, where a loss was recorded, what stands: a claim first.
std::string both_stands(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  std::string up = stand_words(finding, contrast);
  if (!contrast.verdicts.standing) return up;
  const std::string standing = standing_words(finding, contrast);
  const bool first = analysis::claims(contrast.verdicts.came_up);
  const bool second = analysis::claims(*contrast.verdicts.standing);
  if (first && second) return up + ", and " + standing;
  return second ? standing + "; " + up : up + "; " + standing;
}

// One sentence where stand and days lack the same thing; else both, the one that says more first.
std::string nothing_claimed_words(const analysis::TreatmentComparison& finding,
                                  const Contrast& contrast) {
  const std::string stand = both_stands(finding, contrast);
  const std::string speed = speed_words(contrast);
  const auto& [came_up, standing, of_speed] = contrast.verdicts;
  if (came_up.code == StandCode::neither) return stand + "; " + speed;
  if (standing && standing->code == StandCode::neither)
    return standing_words(finding, contrast) + "; " + stand_words(finding, contrast) + "; " + speed;
  if (of_speed.code == SpeedCode::neither) return speed + "; " + stand;
  if (of_speed.ground == SpeedGround::uneven_looks || of_speed.ground == SpeedGround::no_variance)
    return stand + "; " + speed;
  switch (came_up.ground) {
    case StandGround::confounded:
      return stand_words(finding, contrast) + ", nor can the days";
    case StandGround::not_settled:
      return of_speed.ground == SpeedGround::not_settled
                 ? stand_words(finding, contrast) + ", nor can the days"
                 : stand_words(finding, contrast) + "; " + speed;
    case StandGround::no_sowings:
      return of_speed.ground == SpeedGround::nothing_up
                 ? "nothing to go by; " + no_stand_of(contrast)
                 : stand + "; " + speed;
    default:
      return "too small a trial to tell";
  }
}

}  // namespace

std::string verdict_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const std::string head = contrast.treatment + " against " + contrast.against + ": ";
  switch (contrast.joint) {
    case Joint::open:
      return head + no_verdict_open + ". " + so_far_words(contrast);
    case Joint::several_trials:
      return head + no_verdict_trials + ".";
    case Joint::jars_partly_known:
      return head + no_verdict_jars + ".";
    case Joint::neither:
      return head + fmt::format("neither more{} nor sooner (less than {} points and one day).",
                                contrast.verdicts.standing ? ", nor more standing," : "",
                                std::lround(100 * finding.worth));
    case Joint::nothing_claimed:
      return head + nothing_claimed_words(finding, contrast) + ".";
    case Joint::claimed:
      break;
  }
  const auto& [came_up, standing, of_speed] = contrast.verdicts;
  const std::string stand = both_stands(finding, contrast);
  const std::string speed = speed_words(contrast);
  if (!analysis::claims(came_up) && !(standing && analysis::claims(*standing)))
    return head + speed + "; " + stand + ".";
  return head + stand + (analysis::claims(of_speed) && !standing ? ", and " : "; ") + speed + ".";
}

std::string holm_words(const analysis::Adjusted& holm) {
  const auto one = [](const std::optional<double>& p) { return p ? p_value(*p) : "none"; };
  return fmt::format("{} {}{}, drawing lots {}; days {}", holm.standing ? "came up" : "stand",
                     one(holm.came_up), holm.standing ? ", standing " + one(holm.standing) : "",
                     one(holm.randomisation), one(holm.days));
}

}  // namespace plumule::report
