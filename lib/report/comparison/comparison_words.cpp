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
      return finding.state.closing.by == stats::ClosedBy::hand
                 ? "ended while more could still come, so the stand can't be told"
                 : "nobody looked near the end, so the stand can't be told";
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
         : contrast.speed.ground == SpeedGround::not_settled
             ? "not looked at for long enough to tell the days"
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
    return head + "no verdict while the trial is open. " + so_far_words(contrast);
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
    if (contrast.stand.verdict.ground == StandGround::confounded ||
        (contrast.stand.verdict.ground == StandGround::not_settled &&
         contrast.speed.ground == SpeedGround::not_settled))
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
  return fmt::format("stand: t {}, drawing lots {}; days: t {}", one(holm.t),
                     one(holm.randomisation), one(holm.days));
}

}  // namespace plumule::report
