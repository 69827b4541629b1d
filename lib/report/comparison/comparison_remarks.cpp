// What has to be said beside a verdict, a sentence each: what limits it, what seems to speak
// against it, and what shakes the ground under it (sowings changed with the counts in sight, jars
// recorded of some only).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/date.hpp"
#include "report/comparison/comparison_parts.hpp"
#include "report/comparison/comparison_words.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::Contrast;
using analysis::Discord;
using analysis::StandGround;

// "A6 and A7 were taken out of it after its first count": the beginning of a sentence.
std::string changed_words(const records::SowingsChanged& changed) {
  std::string text;
  const auto add = [&](const std::vector<std::string>& names, const char* what) {
    if (names.empty()) return;
    text += fmt::format("{}{} {} {}", text.empty() ? "" : " and ", some_of(names),
                        names.size() == 1 ? "was" : "were", what);
  };
  add(changed.left, "taken out of it");
  add(changed.joined, "put into it");
  add(changed_names(changed), "changed");
  return text + " after its first count";
}

// A sentence for each of the two treatments whose jars are partly known: nothing is claimed for it.
std::vector<std::string> jars_words(const analysis::TreatmentComparison& finding,
                                    const analysis::Contrast& contrast, HintWords hints) {
  std::vector<std::string> list;
  const auto& layout = finding.layout;
  for (std::size_t i = 0; i < layout.jars.size(); ++i) {
    const auto& jars = layout.jars[i];
    const auto& name = layout.treatments[i];
    if (!jars.partly() || (name != contrast.treatment && name != contrast.against)) continue;
    const std::string text = fmt::format(
        "A jar is recorded of {} of the {} {}s of {}, none of {}, which may share it: a claim "
        "needs to know.",
        jars.recorded, static_cast<std::size_t>(jars.recorded) + jars.not_recorded_of.size(),
        unit_name(finding), name, some_of(jars.not_recorded_of));
    list.push_back(
        hinted(hints, text, {records::Advice::record_jar, jars.not_recorded_of.front()}));
  }
  return list;
}

std::string trial_by_trial(const analysis::TrialLayout& layout, HintWords hints) {
  constexpr std::size_t most_named = 4;
  std::string text =
      "A treatment may do one thing in one season or place and another in the next, so nothing is "
      "claimed of trials taken together. Each is told by itself";
  if (hints == nullptr) return text + '.';
  for (std::size_t i = 0; i < std::min(layout.trials.size(), most_named); ++i) {
    text += i == 0 ? ':' : ';';
    text = hinted(hints, text, {records::Advice::compare_one_trial, layout.trials[i]});
  }
  return text + (layout.trials.size() > most_named ? "; and so on." : ".");
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
  const bool one = contrast.one_unit;
  const bool one_against = contrast.one_unit_against;
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
  const std::string seeds = counted(to_tell->seeds, "seed", "seeds");
  const auto number = [&](int trays) {
    return to_tell->pairs ? fmt::format("{} {}s with a {} of each ({})", trays, block_name(finding),
                                        unit, seeds)
                          : fmt::format("{} {}s each of {}", trays, unit, seeds);
  };
  const char* what = contrast.verdicts.standing ? "what comes up" : "the stand";
  if (to_tell->trays) {
    list.push_back(
        fmt::format("About {} would tell {} (in {} trials of 100, if things are as they look now).",
                    number(*to_tell->trays), what, std::lround(100 * to_tell->chance)));
    return;
  }
  const auto& range = contrast.stand.came_up->by_model.range;
  list.push_back(
      fmt::format("More than {} would be needed to tell {}; the difference likely lies within {}.",
                  number(to_tell->most_tried), what, points_range(range.lower, range.upper)));
}

// How the two are parted, and what to do next time.
std::string parted_words(const analysis::TreatmentComparison& finding, const Contrast& contrast,
                         const std::vector<analysis::Factor>& by) {
  using analysis::Factor;
  const auto& layout = finding.layout;
  const std::string unit = unit_name(finding), name = factor_words(by);
  const Factor first = by.front();
  const auto among = [&](const std::vector<Factor>& all) {
    return std::find(all.begin(), all.end(), first) != all.end();
  };
  if (among(layout.jar_across))
    return fmt::format(
        "A jar lies across several {0}s, which hold different shares of the two: a "
        "difference can't be told from one between them. Next time, a jar for each "
        "{0}.",
        factor_words({first}));
  if (by.size() > 1)
    return fmt::format(
        "No {} of {} shares {} with one of {}: a difference can't be told from one "
        "between these. Next time, both in each.",
        unit, contrast.treatment, name, contrast.against);
  if (among(layout.partly_recorded))
    return fmt::format(
        "The {0} is recorded of some {1}s only, and of no two that could be held "
        "against each other: a difference can't be told from one between the {0}s. "
        "Record it of the others.",
        name, unit);
  const bool lies = first == Factor::place || first == Factor::block;
  return fmt::format(
      "Every {0} of {1} {2} another {4} than every {0} of {3}: a difference can't be told from one "
      "between the {5}. Next time, both {6} each {4}.",
      unit, contrast.treatment, lies ? "lies in" : "is of", contrast.against, name,
      first == Factor::day ? "days of sowing" : name + "s",
      lies || first == Factor::setting ? "in"
      : first == Factor::day           ? "on"
                                       : "of");
}

void add_parted(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                const Contrast& contrast) {
  const bool stand = contrast.verdicts.came_up.ground == StandGround::confounded;
  const bool days = contrast.verdicts.speed.ground == analysis::SpeedGround::confounded;
  if (stand || days)
    list.push_back(parted_words(finding, contrast,
                                stand ? contrast.stand.parted_by : contrast.speed.parted_by));
}

// Two trays or more of each, but one of them alone where both are.
void add_lone_unit(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                   const Contrast& contrast) {
  const auto& stand = contrast.stand;
  if (contrast.verdicts.came_up.ground != StandGround::single_unit || stand.units < 2 ||
      stand.units_against < 2 || !stand.came_up)
    return;
  const auto& model = stand.came_up->by_model;
  const bool first = model.units_first < 2;
  list.push_back(fmt::format(
      "Of {0} only one {1} lies in a {2} that holds {3} too: a difference can't be told from that "
      "{1}. Next time, as many of both in each {2}.",
      first ? contrast.treatment : contrast.against, unit_name(finding), block_name(finding),
      first ? contrast.against : contrast.treatment));
}

void add_not_settled(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                     const Contrast& contrast, HintWords hints) {
  if (!contrast.last_look || (contrast.verdicts.came_up.ground != StandGround::not_settled &&
                              contrast.verdicts.speed.ground != analysis::SpeedGround::not_settled))
    return;
  const auto& state = finding.state;
  const bool by_hand = state.closing.by == stats::ClosedBy::hand;
  const auto last_day = by_hand ? state.planned_last_day : *state.closed_on;
  const auto early = counted((last_day - *contrast.last_look).count(), "day", "days");
  if (by_hand) {
    list.push_back(fmt::format(
        "The last look was on {}, {} before its last day, when more could still come: what only "
        "hurries then looks like more, and days look alike while the late ones are missing. If the "
        "{}s still stand, {} and count on.",
        records::spoken(*contrast.last_look), early, unit_name(finding),
        hinted(hints, "take their endings back", {records::Advice::reopen_each})));
    return;
  }
  list.push_back(fmt::format(
      "The last look was on {}, {} before the end, when more could still come, and what only "
      "hurries then looks like more. Count every {} once more.",
      records::spoken(*contrast.last_look), early, unit_name(finding)));
}

// What lies across the treatments is allowed for.
void add_within_blocks(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                       const Contrast& contrast) {
  const auto& came_up = contrast.stand.came_up;
  const std::string name = block_name(finding);
  if (!came_up || !came_up->told || name.empty()) return;
  list.push_back(fmt::format(
      "What differs between one {0} and another is allowed for: the difference in stand is that "
      "within each{1}.",
      name, came_up->by_model.gaps_filled ? ", carried over where one lacks a treatment" : ""));
}

// Those that lack one of the two.
void add_blocks(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                const Contrast& contrast) {
  const auto& test = contrast.stand.randomisation;
  if (!test || test->blocks_left_out.empty() || finding.layout.kept_apart.empty()) return;
  if (contrast.verdicts.came_up.ground == StandGround::confounded) return;
  std::vector<std::string> names;
  for (const int block : test->blocks_left_out)
    names.push_back(finding.layout.strata[static_cast<std::size_t>(block)]);
  list.push_back(fmt::format(
      "In {}{} only one of the two has a final stand: nothing of their difference can be "
      "seen there.",
      finding.layout.kept_apart.size() == 1 ? block_name(finding) + " " : "", some_of(names)));
}

// Where the range and the randomisation test seem to say another thing than the verdict.
void add_reconciling(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                     const Contrast& contrast) {
  const auto& stand = contrast.stand;
  switch (stand.discord) {
    case Discord::none:
      return;
    case Discord::lots_cannot_tell:
      list.push_back(fmt::format(
          "Drawing lots anew can't give a p below {} with so few {}s, so it can neither bear this "
          "out nor speak against it; the claim rests on the size of the difference.",
          chance_of_layout(stand.randomisation->smallest_p, stand.randomisation->arrangements),
          counted_unit(finding, contrast)));
      return;
    case Discord::lots_would_not:
      list.push_back(fmt::format(
          "Drawing lots anew alone ({}) would not claim it; the claim rests on the size of the "
          "difference against how unlike the {}s are.",
          p_words(stand.randomisation->p), counted_unit(finding, contrast)));
      return;
    case Discord::beside_others: {
      const auto& holm = contrast.holm ? contrast.holm : contrast.holm_pairs;
      list.push_back(fmt::format(
          "By itself its range is clear of 0, but it is one of {} comparisons, among which the "
          "best is often luck: allowing for that (Holm), {}.",
          holm->comparisons, p_words(stand.came_up->judged.claim_p)));
      return;
    }
    case Discord::lots_would:
      list.push_back(fmt::format(
          "Drawing lots anew gives {}, but the size of the difference is not sure enough for a "
          "claim.",
          p_words(stand.randomisation->p)));
  }
}

// Of the two the one that is said to give fewer was still coming up.
void add_still_rising(std::vector<std::string>& list, const Contrast& contrast) {
  const auto code = contrast.verdicts.came_up.code;
  const bool fewer = code == analysis::StandCode::fewer;
  if (!fewer && code != analysis::StandCode::more) return;
  if (!(fewer ? contrast.still_rising : contrast.still_rising_against)) return;
  list.push_back(
      fmt::format("At the last look new ones still came of {}: part of the difference may only be "
                  "haste. Count on, and see how many come in the end.",
                  fewer ? contrast.treatment : contrast.against));
}

// What shakes a claim.
void add_spread(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                const Contrast& contrast) {
  const std::string unit = counted_unit(finding, contrast);
  const auto warn = [&](const std::optional<analysis::StandFinding>& stand,
                        const analysis::StandVerdict& verdict, const char* what) {
    if (!stand || !stand->by_model.spreads_more || !analysis::claims(verdict)) return;
    const bool first = *stand->by_model.spreads_more == stand->by_model.first;
    list.push_back(fmt::format(
        "In {3} the {0}s of {1} differ among themselves far more than those of {2}, and are fewer: "
        "such a claim errs more often. More {0}s of {1} would make it sure.",
        unit, first ? contrast.treatment : contrast.against,
        first ? contrast.against : contrast.treatment, what));
  };
  const auto& [came_up, standing, speed] = contrast.verdicts;
  warn(contrast.stand.came_up, came_up, standing ? "what came up" : "the stand");
  if (standing) warn(contrast.stand.standing, *standing, "what stands");
}

void add_after_looking(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                       const Contrast& contrast) {
  if (contrast.verdicts.came_up.ground == StandGround::not_settled) return;  // no claim at all
  if (!finding.after_looking) return;
  const auto& came_up = contrast.stand.came_up;
  list.push_back(fmt::format(
      "{}, so a claim on the stand needs evidence of 20 to 1 (a Bayes factor) as well{}{}.",
      finding.picked_of                           ? "These were picked out of a trial"
      : finding.state.sowings_changed             ? changed_words(*finding.state.sowings_changed)
      : finding.state.closing.added_after_looking ? "Sowings were added after the first count"
                                                  : "The trial was closed before its planned day",
      came_up && came_up->told ? ": it is " + factor(came_up->by_model.bayes_factor) : "",
      analysis::claims(contrast.verdicts.speed) ? "; the claim on days does not allow for that"
                                                : ""));
}

// Days that would be claimed by themselves.
void add_holm(std::vector<std::string>& list, const Contrast& contrast) {
  const auto& holm = contrast.holm ? contrast.holm : contrast.holm_pairs;
  const auto& p = contrast.speed.mean_days.difference.p;
  if (!holm || !holm->days || !p || *p > stats::t_level || *holm->days <= stats::t_level) return;
  if (contrast.verdicts.speed.ground != analysis::SpeedGround::nothing_decided) return;
  list.push_back(
      fmt::format("The days by themselves give {}, but are one of {} comparisons: allowing for all "
                  "of them (Holm), {}.",
                  p_words(*p), holm->comparisons, p_words(*holm->days)));
}

}  // namespace

std::vector<std::string> changed_names(const records::SowingsChanged& changed) {
  std::vector<std::string> names;
  for (const auto& one : changed.changed)
    names.push_back(fmt::format("{} ({})", one.label, fmt::join(one.fields, ", ")));
  return names;
}

std::vector<std::string> verdict_remarks(const analysis::TreatmentComparison& finding,
                                         const Contrast& contrast, HintWords hints) {
  std::vector<std::string> list;
  add_one_unit(list, finding, contrast);
  if (finding.state.open()) return list;
  if (contrast.joint == analysis::Joint::several_trials) {
    list.push_back(trial_by_trial(finding.layout, hints));
    return list;
  }
  if (contrast.joint == analysis::Joint::jars_partly_known) {
    for (auto& text : jars_words(finding, contrast, hints)) list.push_back(std::move(text));
    return list;
  }
  add_after_looking(list, finding, contrast);
  add_parted(list, finding, contrast);
  add_lone_unit(list, finding, contrast);
  add_within_blocks(list, finding, contrast);
  add_blocks(list, finding, contrast);
  add_not_settled(list, finding, contrast, hints);
  add_still_rising(list, contrast);
  add_spread(list, finding, contrast);
  add_reconciling(list, finding, contrast);
  add_to_tell(list, finding, contrast);
  if (contrast.verdicts.speed.code == analysis::SpeedCode::neither) {
    const auto& x = contrast.speed.mean_days.difference;
    if (x.lower90 && x.upper90)
      list.push_back(fmt::format("The days differ by less than one, either way (90 %: {} to {}).",
                                 signed_days(*x.lower90), signed_days(*x.upper90)));
  }
  const int nothing = contrast.speed.nothing_up;
  const std::string unit = counted_unit(finding, contrast);
  if (nothing > 0)
    list.push_back(fmt::format("{} with nothing up: not in the mean days.",
                               counted(nothing, unit, unit + "s")));
  add_holm(list, contrast);
  return list;
}

}  // namespace plumule::report
