// What stood before is never overwritten silently: it is said here, and kept by the logbook.
#include "cli/amending.hpp"

#include <fmt/format.h>

#include "bench/amending.hpp"
#include "bench/jars.hpp"
#include "bench/trials.hpp"
#include "cli/options/sowing_fields.hpp"
#include "cli/options/treatment_fields.hpp"
#include "cli/options/trial_fields.hpp"
#include "cli/showing/plan_showing.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"

namespace plumule::cli {
namespace {

// A correction says what the figure was: a number alone is up in all, also after a loss.
records::Typed typed_figure(const std::string& value) {
  records::Typed typed =
      value[0] == '+' ? records::parse_typed(value.substr(1), true)
                      : records::parse_typed(value[0] == '=' ? value.substr(1) : value, false);
  typed.plain = false;
  return typed;
}

}  // namespace

void declare_identity(Options& options) {
  options.heading("Which sowing it is");
  options.text("label", "LABEL", "the sowing's own label");
  options.text("lot", "LOT", "its lot");
  options.moment("sown", "when it was sown");
  options.text("trial", "NAME", "its trial; none for none");
  options.text("block", "NAME", "its block");
  options.text("jar", "NAME", "its jar");
}

bool gives_identity(const Arguments& arguments) {
  for (const char* name : {"label", "lot", "sown", "trial", "block", "jar", "treatment"})
    if (arguments.has(name)) return true;
  return false;
}

std::vector<std::string> amend_count(logbook::Entry& entry, const Arguments& arguments,
                                     const records::Sowing& sowing, const std::string& value) {
  const records::Date today = entry.today();
  std::optional<records::Typed> typed;
  if (!value.empty()) typed = typed_figure(value);
  const bench::CountAmended amended =
      bench::amend_count(entry, sowing, arguments.moment("on"), typed);
  std::vector<std::string> told;
  told.push_back(fmt::format("{}: {}, was {}", records::spoken(amended.was.at, today),
                             typed ? in_words(typed->entered) : "no look",
                             in_words(amended.was.entered)));
  for (const auto& moved : amended.moved)
    told.push_back(fmt::format("{}: {} up in all, was {}", records::spoken(moved.at, today),
                               moved.total, moved.was));
  return told;
}

std::string settle(logbook::Entry& entry, const records::Sowing& sowing, const std::string& id,
                   bool keep) {
  const records::SetAside aside = bench::settle(entry, sowing, id, keep);
  return fmt::format("{}: {} {}", records::spoken(aside.count.at, entry.today()),
                     in_words(aside.count.entered), keep ? "now counts" : "is left out for good");
}

std::vector<std::string> amend_sowing(logbook::Entry& entry, const Arguments& arguments,
                                      const records::Sowing& sowing) {
  const auto text_or_none = [&](std::string_view name) {
    auto text = arguments.text(name);
    if (text == "none") text = "";
    return text;
  };
  bench::SowingChange change;
  change.fields = sowing;
  lay_fields(arguments, change.fields);
  if (const auto label = arguments.text("label")) change.fields.label = *label;
  if (const auto sown = arguments.moment("sown")) change.fields.sown = *sown;
  change.lot = arguments.text("lot");
  change.trial = text_or_none("trial");
  change.block = arguments.text("block");
  if (arguments.has("treatment") || arguments.has("soak")) {
    auto typed = treatments_typed(arguments);
    if (typed.size() != 1) throw WrongUsage("A sowing has one treatment.");
    lay_temperatures(arguments, entry, typed);
    change.treatment = bench::treatments_for(entry, typed).all[0];
  }
  change.jar = text_or_none("jar");
  for (const char* option : {"wetted", "sown", "treatment", "soak"})
    change.soak_changes = change.soak_changes || arguments.has(option);
  return differences(sowing, bench::amend_sowing(entry, sowing, change));
}

std::vector<std::string> jars_so_far(logbook::Logbook& logbook,
                                     const std::vector<records::Sowing>& amended) {
  std::vector<std::string> told;
  for (const bench::JarsKnown& known : bench::jars_partly_known(logbook, amended))
    told.push_back(fmt::format("Trial {}: a jar is recorded for {} of its {} sowings of {}.",
                               known.trial, known.in_jars, known.sowings, known.treatment));
  return told;
}

std::vector<std::string> changed_after_counts(logbook::Logbook& logbook,
                                              const std::vector<records::Sowing>& amended) {
  std::vector<std::string> told;
  for (const std::string& trial : bench::changed_after_counts(logbook, amended))
    told.push_back(fmt::format(
        "Trial {} has been counted before: compare will say that this was done with the counts "
        "in sight, and ask for more evidence. Not meant? plumule undo",
        trial));
  return told;
}

std::vector<std::string> amend_trial(logbook::Entry& entry, const Arguments& arguments,
                                     const std::string& code) {
  const bench::TrialPlan plan = plan_typed(arguments);
  check_looks(plan, logbook::trial_named(entry.logbook(), code).closes_on,
              bench::looks_from(entry.logbook(), code, entry.today()));
  const auto [before, after] = bench::amend_plan(entry, code, plan);
  std::vector<std::string> told = differences(before, after);
  const auto last = last_day_of(entry.logbook(), after.code, entry.today());
  if (last && last->moved && before.closes_on != after.closes_on)
    told.push_back(day_moved_words(*last));
  return told;
}

std::vector<std::string> amend_treatment(logbook::Entry& entry, const Arguments& arguments,
                                         const std::string& label) {
  const records::Treatment before = logbook::treatment_named(entry.logbook(), label);
  records::Treatment after = before;
  lay_facts(arguments, after);
  DegreesTyped degrees(entry);
  lay_temperatures(arguments, degrees, after);
  degrees.settle();
  logbook::change_treatment(entry, after);
  const records::Degrees unit = shown_unit(arguments, entry.logbook());
  const std::string was = in_words(before, unit);
  const std::string is = in_words(after, unit);
  if (was == is) return {};
  return {fmt::format("{}, was {}", is.empty() ? "no facts" : is, was.empty() ? "no facts" : was)};
}

}  // namespace plumule::cli
