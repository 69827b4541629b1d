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

void add_blocks_to_tell(std::vector<std::string>& list,
                        const analysis::TreatmentComparison& finding, const Contrast& contrast) {
  const auto& to_tell = contrast.stand.blocks_to_tell;
  if (!to_tell) return;
  const std::string name = block_name(finding);
  list.push_back(
      to_tell->blocks
          ? fmt::format("About {} {}s like these would tell the stand (in {} trials of 100, if "
                        "things are as they look now).",
                        *to_tell->blocks, name, std::lround(100 * to_tell->chance))
          : fmt::format("More than {} {}s like these would be needed to tell the stand.",
                        to_tell->most_tried, name));
}

void add_to_tell(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                 const Contrast& contrast) {
  add_blocks_to_tell(list, finding, contrast);
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
    const auto& range = contrast.stand.interval;
    list.push_back(fmt::format("More than {} {}s each of {} would be needed to tell the stand{}.",
                               to_tell->most_tried, unit, counted(to_tell->seeds, "seed", "seeds"),
                               range ? fmt::format("; the difference likely lies within {}",
                                                   points_range(range->lower, range->upper))
                                     : ""));
  }
}

// Seed lots and trials that lack one of the two, or hold different shares of them.
void add_sources(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                 const Contrast& contrast) {
  const auto& stand = contrast.stand;
  const std::string unit = unit_name(finding);
  const std::string source = source_name(finding);
  if (stand.verdict.ground == StandGround::confounded) {
    const std::string other = confounded_with(finding).substr(4);
    list.push_back(fmt::format(
        "Every {0} of {1} is of another {3} than every {0} of {2}: a difference can't be "
        "told from one between the {3}s. Next time, both from each {3}.",
        unit, contrast.treatment, contrast.against, other));
    return;
  }
  for (const int left_out : stand.sources_left_out)
    if (finding.layout.sources.size() > 1)
      list.push_back(fmt::format("{} has a final stand of one of them only: left out.",
                                 finding.layout.sources[static_cast<std::size_t>(left_out)]));
  if (stand.within == stats::Within::sources)
    list.push_back(fmt::format(
        "The {}s hold different shares of the two, so what a {} does could pass for what the "
        "treatment does: a claim goes by the difference within each{}.",
        source, source,
        stand.evidence.t_p() ? fmt::format(" (t, {})", p_words(*stand.evidence.t_p())) : ""));
}

void add_not_settled(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                     const Contrast& contrast, HintWords hints) {
  if (!contrast.last_look || (contrast.stand.verdict.ground != StandGround::not_settled &&
                              contrast.speed.verdict.ground != analysis::SpeedGround::not_settled))
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

// Where a claim goes by the differences within blocks.
void add_within_blocks(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                       const Contrast& contrast) {
  const auto& stand = contrast.stand;
  const std::string name = block_name(finding);
  if (stand.within != stats::Within::blocks) {
    if (contrast.speed.mean_days.difference.within_blocks)
      list.push_back(
          fmt::format("The days go by the differences within each {}, the stand does not.", name));
    return;
  }
  list.push_back(fmt::format(
      "What differs between the {0}s is allowed for: the verdict goes by the differences within "
      "each {0} ({1}).",
      name,
      stand.evidence.t_p() ? "t, " + p_words(*stand.evidence.t_p())
                           : "which do not vary at all, so it asks the drawing of lots"));
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

// What a claim on the stand rests on.
std::string ground_words(const analysis::TreatmentComparison& finding, const Contrast& contrast,
                         const std::string& unit) {
  const auto& stand = contrast.stand;
  switch (stand.verdict.ground) {
    case StandGround::bayes_factor:
      return "the Bayes factor";
    case StandGround::posterior_and_factor:
      return fmt::format(
          "the posterior and, as the {}s of a treatment do not vary at all, a Bayes factor of {}",
          unit, factor(stand.evidence.bayes_factor));
    case StandGround::t_within_blocks:
    case StandGround::lots_within_blocks:
      return fmt::format("the t on {}s within {}s", unit, block_name(finding));
    default:
      return fmt::format("the posterior and the t on {}s", unit);
  }
}

// Where the range and the randomisation test seem to say another thing than the verdict.
void add_reconciling(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                     const Contrast& contrast) {
  const auto& stand = contrast.stand;
  const std::string unit = counted_unit(finding, contrast);
  const bool within_blocks = stand.within == stats::Within::blocks;
  switch (stand.discord) {
    case Discord::none:
      return;
    case Discord::lots_cannot_tell:
      list.push_back(fmt::format(
          "Drawing lots anew can't give a p below {} with so few {}s, so it can neither bear this "
          "out nor speak against it; the claim rests on {}.",
          chance_of_layout(stand.randomisation->smallest_p, stand.randomisation->arrangements),
          unit, ground_words(finding, contrast, unit)));
      return;
    case Discord::lots_would_not:
      list.push_back(fmt::format(
          "The randomisation test alone ({}) would not claim it; the claim rests on {}the t on "
          "{}s{}.",
          p_words(stand.randomisation->p), within_blocks ? "" : "the posterior and ", unit,
          within_blocks ? " within " + block_name(finding) + "s" : ""));
      return;
    case Discord::range_clear:
      list.push_back(fmt::format(
          "The range does not reach 0, but the {}s of one treatment differ among themselves{}: a "
          "claim needs both.",
          unit,
          stand.evidence.t_p()
              ? fmt::format(" (t on {}s, {})", unit, p_words(*stand.evidence.t_p()))
              : ""));
      return;
    case Discord::lots_would:
      list.push_back(
          within_blocks || finding.layout.strata.size() < 2
              ? fmt::format("Drawing lots anew gives {}, but the size of the difference is not "
                            "sure enough for a claim.",
                            p_words(stand.randomisation->p))
              : fmt::format("Drawing lots anew within {0}s gives {1}, but a claim also needs what "
                            "takes no account of {0}s: where those differ it sees less.",
                            block_name(finding), p_words(stand.randomisation->p)));
  }
}

void add_after_looking(std::vector<std::string>& list, const analysis::TreatmentComparison& finding,
                       const Contrast& contrast) {
  if (contrast.stand.verdict.ground == StandGround::not_settled) return;  // no claim at all
  if (!finding.after_looking) return;
  const auto& bayes = contrast.stand.evidence.bayes_factor;
  list.push_back(fmt::format(
      "{}, so a claim on the stand needs evidence of 20 to 1 (a Bayes factor){}{}.",
      finding.picked_of                           ? "These were picked out of a trial"
      : finding.state.sowings_changed             ? changed_words(*finding.state.sowings_changed)
      : finding.state.closing.added_after_looking ? "Sowings were added after the first count"
                                                  : "The trial was closed before its planned day",
      bayes ? ": it is " + factor(bayes) : "",
      analysis::claims(contrast.speed.verdict) ? "; the claim on days does not allow for that"
                                               : ""));
}

// A claim that would not outlast the others made beside it.
void add_holm(std::vector<std::string>& list, const Contrast& contrast) {
  const auto& holm = contrast.holm ? contrast.holm : contrast.holm_pairs;
  if (!holm) return;
  const auto add = [&](const char* what, const std::optional<double>& p) {
    if (!analysis::stands_beside_others(p))
      list.push_back(fmt::format(
          "One of {} {}: allowing for all of them (Holm) the t on {} gives {}, and that "
          "claim would not stand.",
          holm->comparisons, contrast.holm ? "comparisons" : "pairs", what, p_words(*p)));
  };
  if (analysis::claims(contrast.stand.verdict)) add("the stand", holm->t);
  if (analysis::claims(contrast.speed.verdict)) add("the days", holm->days);
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
  add_sources(list, finding, contrast);
  add_within_blocks(list, finding, contrast);
  add_blocks(list, finding, contrast);
  add_not_settled(list, finding, contrast, hints);
  add_reconciling(list, finding, contrast);
  add_to_tell(list, finding, contrast);
  if (contrast.speed.verdict.code == analysis::SpeedCode::neither) {
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
