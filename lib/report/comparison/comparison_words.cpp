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

// Why the stand is not claimed, nor `neither`.
std::string unclaimed_words(const analysis::TreatmentComparison& finding, StandGround ground) {
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
      return finding.state.closing.by == stats::ClosedBy::hand
                 ? "ended while more could still come, so the stand can't be told"
                 : "nobody looked near the end, so the stand can't be told";
    case StandGround::confounded:
      return "the stand can't be told from " + confounded_with(finding);
    default:
      return "too small a trial to tell about the stand";
  }
}

// Likewise of the days. Where they rest on long gaps, or all came at the same looks, more looks
// would tell, not more trays.
std::string unclaimed_words(const analysis::TreatmentComparison& finding, SpeedGround ground) {
  switch (ground) {
    case SpeedGround::trial_open:
      return no_verdict_open;
    case SpeedGround::several_trials:
      return no_verdict_trials;
    case SpeedGround::jars_partly_known:
      return no_verdict_jars;
    case SpeedGround::nothing_up:
      return "no days to compare";
    case SpeedGround::confounded:
      return "the days can't be told from " + confounded_with(finding);
    case SpeedGround::not_settled:
      return "not looked at for long enough to tell the days";
    case SpeedGround::uneven_looks:
    case SpeedGround::no_variance:
      return "looked at too seldom to tell the days";
    default:
      return "too small a trial to tell about the days";
  }
}

std::string less_than_a_day(const analysis::SpeedContrast& speed) {
  if (!speed.verdict.less_than_a_day) return "";
  const std::string by = days(std::fabs(*speed.mean_days.difference.difference));
  return by == "0.0" ? ", by less than 0.1 days" : fmt::format(", by {} days: less than a day", by);
}

// Which of the two has no final stand.
std::string no_stand_of(const Contrast& contrast) {
  const bool first = contrast.stand.units == 0;
  const bool second = contrast.stand.units_against == 0;
  if (first && second) return "neither has a final stand";
  return (first ? contrast.treatment : contrast.against) + " has no final stand";
}

}  // namespace

std::string stand_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& verdict = contrast.stand.verdict;
  switch (verdict.code) {
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
  return unclaimed_words(finding, verdict.ground);
}

std::string speed_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& verdict = contrast.speed.verdict;
  switch (verdict.code) {
    case SpeedCode::sooner:
      return "sooner" + less_than_a_day(contrast.speed);
    case SpeedCode::sooner_after_sowing:
      return "sooner after sowing only (counted from wetting nothing was gained for sure)";
    case SpeedCode::later:
      return verdict.both_clocks
                 ? "later" + less_than_a_day(contrast.speed)
                 : "later after sowing only (counted from wetting nothing was lost for sure)";
    case SpeedCode::neither:
      return "no difference in days worth having";
    case SpeedCode::too_small:
    case SpeedCode::open:
      break;
  }
  return unclaimed_words(finding, verdict.ground);
}

// What every sowing of the one differs in from every sowing of the other.
std::string confounded_with(const analysis::TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  return "the " + (layout.sources.size() < 2 ? "block" : source_name(finding));
}

std::string source_name(const analysis::TreatmentComparison& finding) {
  return finding.layout.several_lots ? "seed lot" : "trial";
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
  return source_name(finding);
}

namespace {

// One sentence where stand and days lack the same thing; else both, the one that says more first.
std::string nothing_claimed_words(const analysis::TreatmentComparison& finding,
                                  const Contrast& contrast) {
  const std::string stand = stand_words(finding, contrast);
  const std::string speed = speed_words(finding, contrast);
  const auto& of_stand = contrast.stand.verdict;
  const auto& of_speed = contrast.speed.verdict;
  if (of_stand.code == StandCode::neither) return stand + "; " + speed;
  if (of_speed.code == SpeedCode::neither) return speed + "; " + stand;
  if (of_speed.ground == SpeedGround::uneven_looks || of_speed.ground == SpeedGround::no_variance)
    return stand + "; " + speed;
  switch (of_stand.ground) {
    case StandGround::confounded:
      return stand + ", nor can the days";
    case StandGround::not_settled:
      return of_speed.ground == SpeedGround::not_settled ? stand + ", nor can the days"
                                                         : stand + "; " + speed;
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
      return head + fmt::format("neither more nor sooner (less than {} points and one day).",
                                std::lround(100 * finding.worth));
    case Joint::nothing_claimed:
      return head + nothing_claimed_words(finding, contrast) + ".";
    case Joint::claimed:
      break;
  }
  const std::string stand = stand_words(finding, contrast);
  const std::string speed = speed_words(finding, contrast);
  if (!analysis::claims(contrast.stand.verdict)) return head + speed + "; " + stand + ".";
  const bool both = analysis::claims(contrast.speed.verdict);
  return head + stand + (both ? ", and " : "; ") + speed + ".";
}

std::string holm_words(const analysis::Adjusted& holm) {
  const auto one = [](const std::optional<double>& p) { return p ? p_value(*p) : "none"; };
  return fmt::format("stand: t {}, drawing lots {}; days: t {}", one(holm.t),
                     one(holm.randomisation), one(holm.days));
}

}  // namespace plumule::report
