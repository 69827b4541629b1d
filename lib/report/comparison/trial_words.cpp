#include "report/comparison/trial_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "records/date.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

// How far apart looks were. Where the longest gap is the one before anything came, no days were
// missed while they came up.
std::string gaps_words(const stats::LookGaps& all) {
  const std::string shortest = days(all.shortest);
  const std::string longest = days(all.longest);
  if (shortest == longest) return fmt::format("Looks were {} days apart", longest);
  if (all.longest_after == 0 || all.first_found < all.longest)
    return fmt::format("Looks were {} to {} days apart while they came", shortest, longest);
  return fmt::format("The first look that found any was on day {}, later ones up to {} days apart",
                     days(all.first_found), days(all.longest_after));
}

// Where nobody looked on the day it closed.
std::string last_look_words(const analysis::TrialState& state) {
  if (!state.last_look || !state.closed_on || *state.last_look >= *state.closed_on) return "";
  return fmt::format("; last counted on day {} of {}", (*state.last_look - state.first_day).count(),
                     state.closing.planned_last_day);
}

}  // namespace

std::string looks_words(std::span<const analysis::Contrast> contrasts) {
  stats::LookGaps all;
  double least_spread = 0;
  std::size_t modelled = 0;
  std::string names;
  std::size_t uneven = 0;
  for (const analysis::Contrast& contrast : contrasts) {
    const auto& looks = contrast.speed.looks;
    if (!looks.uneven || !contrast.speed.mean_days.difference.difference) continue;
    all.shortest = uneven == 0 ? looks.shortest : std::min(all.shortest, looks.shortest);
    all.longest = std::max(all.longest, looks.longest);
    all.first_found = std::max(all.first_found, looks.first_found);
    all.longest_after = std::max(all.longest_after, looks.longest_after);
    least_spread = uneven == 0 ? looks.spread : std::min(least_spread, looks.spread);
    all.spread = std::max(all.spread, looks.spread);
    if (contrast.speed.gaps && contrast.speed.gaps->ratio) ++modelled;
    names += (uneven == 0 ? "" : ", ") + contrast.treatment;
    ++uneven;
  }
  if (uneven == 0) return "";
  std::string text = uneven == contrasts.size() ? "" : names + ": ";
  text += gaps_words(all);
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

std::string so_far_words(const analysis::Contrast& contrast) {
  if (!contrast.evidence) return "";
  const auto& test = contrast.evidence->sequential;
  if (test.status == stats::SequentialStatus::one_treatment)
    return "No block, place or seed lot holds both, so nothing can be said of them yet.";
  if (!test.can_claim)
    return fmt::format(
        "Nothing can be said of them before the last day: in this layout the one test that may be "
        "read early can't give a p below {}.",
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
  const auto& closing = state.closing;
  if (state.open())
    return fmt::format("open until {}{}", records::spoken(state.planned_last_day, true),
                       closing.source == stats::PlannedDay::planned ? ""
                       : closing.source == stats::PlannedDay::give_up
                           ? " (the crop's give-up day)"
                           : " (four weeks after the last sowing)");
  const std::string when =
      state.closed_on ? " " + records::spoken(*state.closed_on, true) : std::string();
  switch (closing.by) {
    case stats::ClosedBy::planned_day:
      return "closed" + when +
             (closing.source == stats::PlannedDay::planned ? " as planned"
              : closing.source == stats::PlannedDay::give_up
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
