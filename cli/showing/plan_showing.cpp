// A plan can only bind the one who can read it: all of it is shown, and each change of it.
#include "cli/showing/plan_showing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "bench/trials.hpp"
#include "cli/showing/change_showing.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/settings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/number_check.hpp"
#include "records/treatment.hpp"

namespace plumule::cli {
namespace {

std::vector<records::History> sowings_of(logbook::Logbook& logbook, const std::string& trial) {
  logbook::Selection selection;
  selection.trial = trial;
  return logbook::histories(logbook, selection);
}

std::string day(records::Date date) { return records::spoken(date, true); }

void row(const Context& context, std::string_view name, const std::string& value) {
  if (value.empty()) return;
  std::string left = "  " + std::string(name);
  left.resize(20, ' ');
  context.screen.line(left + context.screen.in_lines(value, 20));
}

std::string looks(const records::Trial& trial) {
  if (trial.inspections.empty()) return "every day";
  std::vector<std::string> days;
  for (const records::Date date : trial.inspections) days.push_back(records::spoken(date));
  if (days.size() > 6)
    return fmt::format("{}, {} to {}", number_of(static_cast<std::int64_t>(days.size()), "day"),
                       day(trial.inspections.front()), day(trial.inspections.back()));
  return listed(days);
}

// "Fri 24 Apr 2026, as planned", and what was planned once counting had begun.
std::string last_day_in_words(const records::Trial& trial, const LastDay& last) {
  std::string text = day(last.day);
  if (last.planned) text += ", as planned";
  if (last.planned && last.moved) text += " before its first count";
  if (last.too_early) text += ", the planned one lying before the last sowing";
  if (!last.planned) text += (last.too_early ? ": by " : ", not planned: by ") + last.basis;
  if (!last.moved || trial.closes_on == last.day) return text;
  return text + fmt::format("; {} since, which compare does not go by",
                            trial.closes_on ? "moved to " + day(*trial.closes_on) : "changed");
}

// "8, of them 3 ended; untreated 4, soak-12h 4 (jar J1 2, jar J2 2)".
std::string sown(const std::vector<records::History>& histories) {
  std::map<std::string, std::vector<const records::Sowing*>> of;
  std::int64_t ended = 0;
  for (const records::History& history : histories) {
    of[history.sowing.treatment].push_back(&history.sowing);
    if (!history.sowing.open()) ++ended;
  }
  std::string text = std::to_string(histories.size());
  if (ended > 0) text += fmt::format(", {} of them ended", ended);
  for (const auto& [treatment, sowings] : of) {
    text += fmt::format("; {} {}", treatment, sowings.size());
    if (treatment == records::untreated) continue;
    const auto in_jar = std::count_if(sowings.begin(), sowings.end(),
                                      [](const auto* sowing) { return !sowing->batch.empty(); });
    if (in_jar > 0) text += fmt::format(" (a jar recorded for {})", in_jar);
  }
  return text;
}

}  // namespace

std::optional<LastDay> last_day_of(logbook::Logbook& logbook, const std::string& trial,
                                   records::Date today) {
  const auto found = bench::trial_sowings(logbook, trial);
  if (!found) return std::nullopt;
  return analysis::last_day(found->histories, found->trial, today);
}

std::string last_day_words(const std::string& trial, const std::optional<LastDay>& last) {
  if (!last) return {};
  if (last->planned)
    return fmt::format("Last day of {}: {}, as planned; until then compare gives no verdict.",
                       trial, day(last->day));
  return fmt::format(
      "Last day of {}: {}, by what is known of its crop: {}.{}", trial, day(last->day),
      last->too_early ? "the planned one lay before its last sowing" : "none was planned",
      last->last_look ? ""
                      : fmt::format(" Another, before the first count: plumule "
                                    "amend trial:{} --until DATE",
                                    trial));
}

std::string last_day_words(const std::string& trial, const std::optional<LastDay>& before,
                           const std::optional<LastDay>& last) {
  if (!last || !before || !before->last_look) return last_day_words(trial, last);
  const std::string way = fmt::format(
      "Not meant, or a trial of its own (--trial {}-2 --new)? plumule undo first", trial);
  if (!before->closed_on)
    return last_day_words(trial, last) + " Counting had begun before this sowing was entered. " +
           way;
  if (last->closed_on)
    return fmt::format("{} closed on {}, and this sowing is in it all the same. {}", trial,
                       day(*before->closed_on), way);
  return fmt::format(
      "{} closed on {}. With this sowing it is open again, its last day {}, and until then compare "
      "gives no verdict on any of it. {}",
      trial, day(*before->closed_on), day(last->day), way);
}

std::string day_moved_words(const LastDay& last) {
  return fmt::format(
      "Counting had begun: compare keeps to {}, {}, and says that the day was moved. Not meant? "
      "plumule undo",
      day(last.day), last.planned ? "fixed before it" : "by " + last.basis);
}

void show_trial(const Context& context, logbook::Logbook& logbook, const std::string& code) {
  const records::Trial trial = logbook::trial_named(logbook, code);
  context.screen.paragraph(context.screen.toned(Tone::strong, "Trial " + trial.code) +
                           (trial.question.empty() ? std::string() : ": " + trial.question));
  const auto last = last_day_of(logbook, trial.code, context.today);
  if (last)
    row(context, "last day", last_day_in_words(trial, *last));
  else if (trial.closes_on)
    row(context, "last day", day(*trial.closes_on) + ", as planned");
  else
    row(context, "last day", "none planned");
  row(context, "looks", looks(trial));
  row(context, "worth having",
      trial.worth ? records::shown(*trial.worth * 100) + " points of the stand" : "not said");
  row(context, "blind", trial.blind ? "yes" : "no");
  row(context, "blocks", listed(trial.blocks));
  row(context, "sowings", sown(sowings_of(logbook, trial.code)));
  show_changes(context, field_changes_of(logbook, records::About::trial, trial.id));
}

Json trial_answer(const Context& context, logbook::Logbook& logbook, const std::string& code) {
  const records::Trial trial = logbook::trial_named(logbook, code);
  const auto last = last_day_of(logbook, trial.code, context.today);
  Json inspections = Json::array();
  for (const records::Date date : trial.inspections) inspections.push_back(records::to_text(date));
  return {{"trial", trial.code},
          {"question", or_null(trial.question)},
          {"last_day", last ? Json(records::to_text(last->day)) : or_null(trial.closes_on)},
          {"last_day_planned", last ? last->planned : trial.closes_on.has_value()},
          {"inspections", inspections},
          {"worth", or_null(trial.worth)},
          {"blind", trial.blind},
          {"blocks", trial.blocks},
          {"corrections", to_json(field_changes_of(logbook, records::About::trial, trial.id))}};
}

void show_treatment(const Context& context, logbook::Logbook& logbook, const std::string& label) {
  const records::Treatment treatment = logbook::treatment_named(logbook, label);
  const records::Degrees unit = logbook::shown_unit(logbook);
  const std::string facts = in_words(treatment, unit);
  context.screen.paragraph(context.screen.toned(Tone::strong, "Treatment " + treatment.label) +
                           ": " + (facts.empty() ? "no facts kept" : facts) + ".");
  show_changes(context, field_changes_of(logbook, records::About::treatment, treatment.id, unit));
}

Json treatment_answer(logbook::Logbook& logbook, const std::string& label) {
  const records::Treatment treatment = logbook::treatment_named(logbook, label);
  return {
      {"treatment", treatment.label},
      {"soak_hours", or_null(treatment.soak_hours)},
      {"water_c", or_null(treatment.water_c)},
      {"scarification", or_null(treatment.scarification)},
      {"chill_days", or_null(treatment.chill_days)},
      {"chill_c", or_null(treatment.chill_c)},
      {"priming", or_null(treatment.priming)},
      {"corrections", to_json(field_changes_of(logbook, records::About::treatment, treatment.id))}};
}

}  // namespace plumule::cli
