// Corrections: of a count, of a sowing, of a trial's plan, of a treatment's facts.
#include <fmt/format.h>

#include "cli/amending.hpp"
#include "cli/course_showing.hpp"
#include "cli/opening.hpp"
#include "cli/sowing_fields.hpp"
#include "cli/treatment_fields.hpp"
#include "cli/trial_fields.hpp"
#include "cli/wording.hpp"
#include "logbook/find.hpp"
#include "logbook/sowings.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME",
                "the sowing, then the right figure (=12, +3, =12-2); alone, its counts and "
                "what was corrected. trial:NAME and treatment:NAME work too",
                1, 2);
  options.moment("on", "of which look; else the last one");
  options.flag("remove", "that look was never made, or was of another sowing");
  options.text("keep", "ID", "what was kept aside (d1, r1) is the count");
  options.text("discard", "ID", "what was kept aside is left out for good");
  options.flag("reopen", "takes an ending back");
  declare_identity(options);
  declare_sowing_fields(options);
  declare_treatment_fields(options);
  declare_trial_plan(options);
}

bool changes_sowing(const Arguments& arguments) {
  return gives_sowing_fields(arguments) || gives_identity(arguments) ||
         gives_treatment_facts(arguments);
}

bool changes_count(const Arguments& arguments) {
  return arguments.words().size() > 1 || arguments.flag("remove");
}

bool changes_anything(const Arguments& arguments) {
  return changes_sowing(arguments) || changes_count(arguments) || arguments.has("keep") ||
         arguments.has("discard") || arguments.flag("reopen") || gives_trial_plan(arguments);
}

std::vector<std::string> amend(logbook::Entry& entry, const Arguments& arguments,
                               const records::Sowing& sowing) {
  if (gives_trial_plan(arguments))
    throw WrongUsage("That is the plan of a trial: plumule amend trial:NAME ...");
  if (arguments.flag("remove") && arguments.words().size() > 1)
    throw WrongUsage("A figure is given, and --remove too. Which is it?");
  std::vector<std::string> told;
  const auto tell = [&](const std::vector<std::string>& more) {
    told.insert(told.end(), more.begin(), more.end());
  };
  if (arguments.flag("reopen")) {
    if (sowing.open())
      throw records::Refused(sowing.label + " is open: there is no ending to take back.");
    logbook::reopen_sowing(entry, sowing.id);
    tell({"open again"});
  }
  if (changes_sowing(arguments))
    tell(amend_sowing(entry, arguments, logbook::sowing_by_id(entry.logbook(), sowing.id)));
  const records::Sowing now = logbook::sowing_by_id(entry.logbook(), sowing.id);
  if (changes_count(arguments))
    tell(amend_count(entry, arguments, now, arguments.flag("remove") ? "" : arguments.words()[1]));
  if (const auto id = arguments.text("keep")) tell({settle(entry, now, *id, true)});
  if (const auto id = arguments.text("discard")) tell({settle(entry, now, *id, false)});
  return told;
}

void finish(const Context& context, logbook::Entry& entry, const std::string& name,
            const std::vector<std::string>& told) {
  entry.say("Amended " + name + (told.empty() ? "" : ": " + told[0]));
  entry.commit();
  if (context.json) return;
  context.screen.line(context.screen.toned(Tone::strong, name) +
                      (told.empty() ? ": nothing changed" : ""));
  for (const std::string& line : told)
    context.screen.line("  " + wrapped(line, context.screen.width(), 2));
}

// A trial or a treatment, where the name is one of these and of no sowing.
int amend_other(Context& context, const Arguments& arguments) {
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  const logbook::Named named = logbook::named(logbook, arguments.words()[0]);
  const bool trial = named.kind == logbook::NameKind::trial;
  if (named.kind == logbook::NameKind::lot)
    throw records::Refused(fmt::format("{0} is a lot: plumule lot {0} changes it.", named.name));
  if (!trial && named.kind != logbook::NameKind::treatment)
    throw records::Refused(named.name + " is no sowing, trial or treatment.");
  if (!(trial ? gives_trial_plan(arguments) : gives_treatment_facts(arguments)))
    throw WrongUsage(trial
                         ? "What of the trial? --question, --until, --every, --worth, --blind."
                         : "What of the treatment? --soak, --water, --scarify, --chill, --prime.");
  logbook::Entry entry = begin(logbook, context);
  const std::vector<std::string> told = trial ? amend_trial(entry, arguments, named.name)
                                              : amend_treatment(entry, arguments, named.name);
  finish(context, entry, named.name, told);
  if (context.json)
    print_json(context, {{"name", named.name}, {"changed", told}, {"sowing", nullptr}});
  return 0;
}

int run(Context& context, const Arguments& arguments) {
  const std::string& name = arguments.words()[0];
  const bool writes = changes_anything(arguments);
  std::optional<records::Sowing> sowing;
  logbook::Logbook logbook =
      open_logbook(context, writes ? logbook::Access::write : logbook::Access::read);
  const bool other = name.starts_with("trial:") || name.starts_with("treatment:");
  if (!other) sowing = logbook::find_sowing(logbook, name);
  if (!sowing && (other || writes)) {
    if (!other && changes_count(arguments)) logbook::sowing_named(logbook, name);
    return amend_other(context, arguments);
  }
  if (!sowing) sowing = logbook::sowing_named(logbook, name);  // refuses, with the nearest
  if (!writes) {
    if (context.json)
      print_json(context, {{"name", sowing->label},
                           {"changed", Json::array()},
                           {"sowing", course_answer(logbook, *sowing)}});
    else
      show_course(context, logbook, *sowing);
    return 0;
  }
  logbook::Entry entry = begin(logbook, context);
  const std::vector<std::string> told = amend(entry, arguments, *sowing);
  const records::Sowing now = logbook::sowing_by_id(logbook, sowing->id);
  finish(context, entry, name_of(now), told);
  if (context.json)
    print_json(context,
               {{"name", now.label}, {"changed", told}, {"sowing", course_answer(logbook, now)}});
  return 0;
}

}  // namespace

extern const Command amend_command;
const Command amend_command{
    .name = "amend",
    .group = Group::keep,
    .summary = "put a mistake right",
    .about =
        "Corrects what was entered: a count, a field of a sowing, an ending, what was kept aside; "
        "with trial:NAME the trial's plan, with treatment:NAME the treatment's facts. It shows "
        "what it was before; the logbook keeps that too, with who changed it and when.",
    .example = "plumule amend R2 --on 2026-05-08 =15",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
