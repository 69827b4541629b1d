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

// Whether nothing is claimed for the trials being several.
bool over_trials(const Contrast& contrast) {
  return contrast.stand.verdict.ground == StandGround::several_trials ||
         contrast.speed.ground == SpeedGround::several_trials;
}

// The commands that tell of each.
std::string trial_by_trial(const analysis::TrialLayout& layout) {
  constexpr std::size_t most_named = 4;
  std::string text =
      "A treatment may do one thing in one season or place and another in the next, so nothing is "
      "claimed of trials taken together. Each is told by itself:";
  for (std::size_t i = 0; i < std::min(layout.trials.size(), most_named); ++i)
    text += (i == 0 ? " plumule compare " : "; plumule compare ") + layout.trials[i];
  return text + (layout.trials.size() > most_named ? "; and so on." : ".");
}

// What every sowing of the one differs in from every sowing of the other.
std::string confounded_with(const analysis::TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  if (layout.sources.size() < 2) return "the block";
  return layout.several_lots ? "the seed lot" : "the trial";
}

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

std::string speed_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  switch (contrast.speed.code) {
    case SpeedCode::sooner:
      return "sooner";
    case SpeedCode::sooner_after_sowing:
      return "sooner after sowing only (counted from wetting nothing was gained for sure)";
    case SpeedCode::later:
      return contrast.speed.both_clocks
                 ? "later"
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
         : contrast.speed.ground == SpeedGround::uneven_looks
             ? "looks too uneven to tell the days"
             : "too small a trial to tell about the days";
}

// Which of the two has no final stand.
std::string no_stand_of(const Contrast& contrast) {
  const bool first = contrast.stand.units == 0;
  const bool second = contrast.stand.units_against == 0;
  if (first && second) return "neither has a final stand";
  return (first ? contrast.treatment : contrast.against) + " has no final stand";
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

// One tray or one jar: said every time.
void add_one_unit(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                  const Contrast& contrast) {
  const std::string unit = unit_name(finding);
  for (const bool first : {true, false}) {
    const bool batch = first ? contrast.one_batch : contrast.one_batch_against;
    const std::string& name = first ? contrast.treatment : contrast.against;
    if (batch)
      list.push_back(
          fmt::format("All seed of {} was treated in one jar: a difference can't be "
                      "told from that jar, however many {}s were sown. Next time, a jar for each "
                      "{}.",
                      name, unit, unit));
  }
  const auto& stand = contrast.stand;
  const auto& days = contrast.speed.mean_days.difference;
  const bool one = stand.units == 1 || (stand.units == 0 && days.sowings == 1);
  const bool one_against =
      stand.units_against == 1 || (stand.units_against == 0 && days.against == 1);
  if (one && one_against && !contrast.one_batch && !contrast.one_batch_against)
    list.push_back(
        fmt::format("One {} each: a difference can't be told from that {}.", unit, unit));
  else if (one && !contrast.one_batch)
    list.push_back(fmt::format("One {} of {} only: a difference can't be told from that {}.", unit,
                               contrast.treatment, unit));
  else if (one_against && !contrast.one_batch_against)
    list.push_back(fmt::format("One {} of {} only: a difference can't be told from that {}.", unit,
                               contrast.against, unit));
}

// What the claims count: jars, where any seed of the two shared one.
std::string counted_unit(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& layout = finding.layout;
  for (const auto& unit : layout.units) {
    const auto& name = layout.treatments[unit.treatment];
    if (unit.sowings.size() > 1 && (name == contrast.treatment || name == contrast.against))
      return "jar";
  }
  return unit_name(finding);
}

void add_to_tell(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                 const Contrast& contrast) {
  const auto& to_tell = contrast.stand.to_tell;
  if (!to_tell) return;
  const std::string unit = counted_unit(finding, contrast);
  if (to_tell->trays) {
    list.push_back(
        fmt::format("About {} {}s each of {} would tell the stand (in {} trials of 100, "
                    "if things are as they look now).",
                    *to_tell->trays, unit, counted(to_tell->seeds, "seed", "seeds"),
                    std::lround(100 * to_tell->chance)));
  } else {
    const double apart = std::fabs(to_tell->p_first - to_tell->p_second);
    const bool near = apart > finding.worth / 2 && apart < 1.5 * finding.worth;
    list.push_back(fmt::format(
        "Not even {} {}s each of {} would be sure to tell the stand{}.", to_tell->most_tried, unit,
        counted(to_tell->seeds, "seed", "seeds"),
        near ? fmt::format(": if things are as they look now, the difference lies near {} points",
                           std::lround(100 * finding.worth))
             : ""));
  }
}

// Seed lots and trials that lack one of the two, or hold different shares of them.
void add_sources(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                 const Contrast& contrast) {
  const auto& stand = contrast.stand;
  const std::string unit = unit_name(finding);
  const std::string source = finding.layout.several_lots ? "seed lot" : "trial";
  if (stand.verdict.ground == StandGround::confounded) {
    const std::string other = confounded_with(finding).substr(4);
    list.push_back(fmt::format(
        "Every {0} of {1} is of another {3} than every {0} of {2}: a difference can't be "
        "told from one between the {3}s. Next time, both from each {3}.",
        unit, contrast.treatment, contrast.against, other));
    return;
  }
  for (const int left_out : stand.sources_left_out)
    list.push_back(fmt::format("{} has a final stand of one of them only: left out.",
                               finding.layout.sources[static_cast<std::size_t>(left_out)]));
  if (stand.verdict.within_sources)
    list.push_back(fmt::format(
        "The {}s hold different shares of the two, so what a {} does could pass for what the "
        "treatment does: a claim goes by the difference within each{}.",
        source, source,
        stand.verdict.t_p ? fmt::format(" (t, {})", p_words(*stand.verdict.t_p)) : ""));
}

void add_not_settled(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                     const Contrast& contrast) {
  const auto& stand = contrast.stand;
  if (stand.verdict.ground != StandGround::not_settled || !stand.last_look) return;
  const auto early = (*finding.state.closed_on - *stand.last_look).count();
  list.push_back(fmt::format(
      "The last look was on {}, {} before the end, when more could still come, and what only "
      "hurries then looks like more. Count once more.",
      records::spoken(*stand.last_look), counted(early, "day", "days")));
}

// Blocks that lack one of the two.
void add_blocks(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                const Contrast& contrast) {
  const auto& test = contrast.stand.randomisation;
  if (!test || test->blocks_left_out.empty() || !finding.layout.blocks_recorded) return;
  if (contrast.stand.verdict.ground == StandGround::confounded) return;
  std::string names;
  for (const int block : test->blocks_left_out)
    names += (names.empty() ? "" : ", ") + finding.layout.strata[static_cast<std::size_t>(block)];
  const bool one = test->blocks_left_out.size() == 1;
  list.push_back(
      fmt::format("Block{} {} lack{} a final stand of one of them: left out of the "
                  "drawing of lots.",
                  one ? "" : "s", names, one ? "s" : ""));
}

// Whether a claim on the stand must rest on the Bayes factor.
bool after_looking(const analysis::TreatmentComparison& finding) {
  return finding.state.openness.after_looking() || finding.picked_of;
}

// Where the interval and the randomisation test seem to disagree.
void add_reconciling(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                     const Contrast& contrast) {
  const auto& stand = contrast.stand;
  if (!stand.interval || !stand.randomisation ||
      stand.randomisation->status != stats::RandomisationStatus::ok)
    return;
  const auto ground = stand.verdict.ground;
  if (ground == StandGround::confounded || ground == StandGround::not_settled) return;
  const auto& test = *stand.randomisation;
  const std::string unit = counted_unit(finding, contrast);
  const bool clear = stand.interval->lower > 0 || stand.interval->upper < 0;
  if (claims_stand(contrast) && test.p > 0.05) {
    list.push_back(
        test.smallest_p > 0.05
            ? fmt::format("Drawing lots anew can't give a p below {} with so few {}s, so it can "
                          "neither bear this out nor speak against it; the claim rests on {}.",
                          chance_of_layout(test.smallest_p, test.arrangements), unit,
                          stand.verdict.ground == StandGround::bayes_factor
                              ? std::string("the Bayes factor")
                          : stand.verdict.ground == StandGround::posterior_and_factor
                              ? fmt::format("the posterior and, as the {}s of a treatment do not "
                                            "vary at all, a Bayes factor of {}",
                                            unit, factor(stand.verdict.bayes_factor))
                              : fmt::format("the posterior and the t on {}s", unit))
            : fmt::format("The randomisation test alone ({}) would not claim it; the claim rests "
                          "on the posterior and the t on {}s.",
                          p_words(test.p), unit));
  } else if (!claims_stand(contrast) && clear && stand.units > 1 && stand.units_against > 1) {
    // After looking, or within seed lots, the reason is said elsewhere.
    if (after_looking(finding) || stand.verdict.within_sources) return;
    list.push_back(fmt::format(
        "The range does not reach 0, but the {}s of one treatment differ among themselves{}: a "
        "claim needs both.",
        unit,
        stand.verdict.t_p ? fmt::format(" (t on {}s, {})", unit, p_words(*stand.verdict.t_p))
                          : ""));
  } else if (!claims_stand(contrast) && test.p <= 0.05) {
    list.push_back(
        fmt::format("Drawing lots anew gives {}, but the size of the difference is not "
                    "sure enough for a claim.",
                    p_words(test.p)));
  }
}

void add_after_looking(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                       const Contrast& contrast) {
  if (!after_looking(finding)) return;
  const auto& bayes = contrast.stand.verdict.bayes_factor;
  list.push_back(fmt::format(
      "{}, so a claim on the stand needs evidence of 20 to 1 (a Bayes factor){}{}.",
      finding.picked_of                            ? "These were picked out of a trial"
      : finding.state.openness.added_after_looking ? "Sowings were added after the first count"
                                                   : "The trial was closed before its planned day",
      bayes ? ": it is " + factor(bayes) : "",
      claims_speed(contrast) ? "; the claim on days does not allow for that" : ""));
}

// A claim that would not outlast the others made beside it.
void add_holm(std::vector<std::string>& list, const Contrast& contrast) {
  const auto& holm = contrast.holm ? contrast.holm : contrast.holm_pairs;
  if (!holm) return;
  const auto add = [&](const char* what, const std::optional<double>& p) {
    if (p && *p > 0.05)
      list.push_back(fmt::format(
          "One of {} {}: allowing for all of them (Holm) the t on {} gives {}, and that "
          "claim would not stand.",
          holm->comparisons, contrast.holm ? "comparisons" : "pairs", what, p_words(*p)));
  };
  if (claims_stand(contrast)) add("the stand", holm->t);
  if (claims_speed(contrast)) add("the days", holm->days);
}

}  // namespace

std::string unit_name(const analysis::TreatmentComparison& finding) {
  std::string name;
  for (const auto& sowing : finding.layout.sowings) {
    const std::string one(records::word(sowing.setting));
    if (!name.empty() && name != one) return "sowing";
    name = one == "cells" ? "sowing" : one;
  }
  return name.empty() ? "sowing" : name;
}

std::string verdict_words(const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const std::string head = contrast.treatment + " against " + contrast.against + ": ";
  if (finding.state.open())
    return head + "no verdict while the trial is open. " + so_far_words(finding, contrast);
  if (over_trials(contrast)) return head + "no verdict over several trials taken together.";
  const std::string stand = stand_words(finding, contrast);
  const std::string speed = speed_words(finding, contrast);
  if (contrast.code == "neither")
    return head + fmt::format("neither more nor sooner (less than {} points and one day).",
                              std::lround(100 * finding.worth));
  if (contrast.code == "too-small") {
    if (contrast.stand.verdict.code == StandCode::neither) return head + stand + "; " + speed + ".";
    if (contrast.speed.code == SpeedCode::neither) return head + speed + "; " + stand + ".";
    if (contrast.speed.ground == SpeedGround::uneven_looks)
      return head + stand + "; " + speed + ".";
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

std::vector<std::string> verdict_remarks(const analysis::TreatmentComparison& finding,
                                         const Contrast& contrast) {
  std::vector<std::string> list;
  add_one_unit(list, finding, contrast);
  if (finding.state.open()) return list;
  if (over_trials(contrast)) {
    list.push_back(trial_by_trial(finding.layout));
    return list;
  }
  add_after_looking(list, finding, contrast);
  add_sources(list, finding, contrast);
  add_blocks(list, finding, contrast);
  add_not_settled(list, finding, contrast);
  add_reconciling(list, finding, contrast);
  add_to_tell(list, finding, contrast);
  const int nothing = contrast.speed.nothing_up;
  if (nothing > 0)
    list.push_back(fmt::format("{} with nothing up: not in the mean days.",
                               counted(nothing, "sowing", "sowings")));
  add_holm(list, contrast);
  return list;
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
    text +=
        "No model can be fitted, so a verdict on the days must hold wherever in the gaps they "
        "came.";
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
                  : ", four weeks after the last sowing");
    case stats::ClosedBy::quiet:
      return "closed" + when + ", nothing new having come";
    case stats::ClosedBy::hand:
      return "closed" + when + " by hand, before its planned day";
    case stats::ClosedBy::nothing:
      break;
  }
  return "closed" + when;
}

}  // namespace plumule::report
