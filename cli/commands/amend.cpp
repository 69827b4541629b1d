// Corrections: of a count, of a sowing and what was seen of it, of a trial's plan, of a treatment's
// facts.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "cli/amending.hpp"
#include "cli/opening.hpp"
#include "cli/options/sowing_fields.hpp"
#include "cli/options/treatment_fields.hpp"
#include "cli/options/trial_fields.hpp"
#include "cli/seen_amending.hpp"
#include "cli/showing/course_showing.hpp"
#include "cli/showing/plan_showing.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/find.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/sowings.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME",
                "the sowing with the right figure, as count takes it (A1=12, A1+3, A1=12-2); "
                "several sowings, for a field that all "
                "of them share; alone, its counts and what was changed. trial:NAME and "
                "treatment:NAME work too, and lot:NAME for its notes",
                1, any_number);
  options.moment("on", "of which look; else the last one");
  options.flag("remove", "that look was never made, or was of another sowing");
  options.text("keep", "ID", "what was kept aside (d1, r1) is the count");
  options.text("discard", "ID", "what was kept aside is left out for good");
  options.text("seen", "ID",
               "what was seen besides (a1 assessed, t1 a temperature, n1 a note) becomes what is "
               "typed after the name; --on gives its day");
  options.flag("reopen", "takes an ending back");
  declare_identity(options);
  declare_sowing_fields(options);
  declare_treatment_fields(options);
  options.heading("The plan, with trial:NAME");
  declare_trial_plan(options);
  options.usual(
      {"on", "remove", "keep", "discard", "seen", "reopen", "label", "lot", "sown", "seeds"});
}

bool changes_sowing(const Arguments& arguments) {
  return gives_sowing_fields(arguments) || gives_identity(arguments) ||
         gives_treatment_facts(arguments);
}

// The words: names, then perhaps a figure.
struct Typed {
  std::vector<std::string> names;
  std::string figure;  // empty: none
};

// Where a name is split from its figure: A1=12, A1:12, A1+3. Not in trial:NAME and its like.
std::size_t figure_at(const std::string& word) {
  if (!records::is_pair(word)) return std::string::npos;
  const std::size_t equals = word.find('=');
  if (equals != std::string::npos) return equals;
  const std::size_t colon = word.find(':');
  if (colon == std::string::npos) return word.rfind('+');
  const bool figure = colon + 1 < word.size() &&
                      word.find_first_not_of("0123456789.+-/", colon + 1) == std::string::npos;
  return figure ? colon : std::string::npos;
}

// Labels may begin with a digit: a bare number after one name is a figure, unless a sowing is
// called so.
Typed typed_words(logbook::Logbook& logbook, const Arguments& arguments) {
  Typed typed{arguments.words(), {}};
  if (!arguments.has("seen"))
    for (std::string& name : typed.names) {
      const std::size_t at = figure_at(name);
      if (at == 0 || at == std::string::npos) continue;
      if (typed.names.size() > 1)
        throw WrongUsage("A figure is of one sowing: amend these one at a time.");
      typed.figure = name[at] == ':' ? '=' + name.substr(at + 1) : name.substr(at);
      name.resize(at);
    }
  if (typed.names.size() < 2) return typed;
  if (arguments.has("seen")) {
    for (std::size_t i = 1; i < typed.names.size(); ++i)
      typed.figure += (i == 1 ? "" : " ") + typed.names[i];
    typed.names.resize(1);
    return typed;
  }
  const std::string& last = typed.names.back();
  const bool marked = !last.empty() && std::string_view("=+?").find(last[0]) != std::string::npos;
  const bool number = typed.names.size() == 2 && !last.empty() && last[0] >= '0' &&
                      last[0] <= '9' && !logbook::find_sowing(logbook, last);
  if (!marked && !number && last != "same") return typed;
  typed.figure = last;
  typed.names.pop_back();
  return typed;
}

bool changes_count(const Typed& typed, const Arguments& arguments) {
  return !arguments.has("seen") && (!typed.figure.empty() || arguments.flag("remove"));
}

bool changes_anything(const Typed& typed, const Arguments& arguments) {
  return changes_sowing(arguments) || changes_count(typed, arguments) || arguments.has("keep") ||
         arguments.has("discard") || arguments.has("seen") || arguments.flag("reopen") ||
         gives_trial_plan(arguments);
}

// What only one sowing at a time can be given.
void refuse_several(const Typed& typed, const Arguments& arguments) {
  if (typed.names.size() < 2) return;
  if (changes_count(typed, arguments) || arguments.has("keep") || arguments.has("discard"))
    throw WrongUsage("A figure is of one sowing: amend these one at a time.");
  if (arguments.has("label"))
    throw WrongUsage("A label is of one sowing: amend these one at a time.");
}

std::vector<std::string> amend(logbook::Entry& entry, const Arguments& arguments,
                               const Typed& typed, const records::Sowing& sowing) {
  if (gives_trial_plan(arguments))
    throw WrongUsage(fmt::format("That is the plan of a trial: plumule amend trial:{} ...",
                                 sowing.trial.empty() ? "NAME" : sowing.trial));
  if (arguments.flag("remove") && !typed.figure.empty())
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
  if (changes_count(typed, arguments)) tell(amend_count(entry, arguments, now, typed.figure));
  if (arguments.has("seen")) tell(amend_seen(entry, arguments, now, typed.figure));
  if (const auto id = arguments.text("keep")) tell({settle(entry, now, *id, true)});
  if (const auto id = arguments.text("discard")) tell({settle(entry, now, *id, false)});
  return told;
}

void show(const Context& context, const std::string& name, const std::vector<std::string>& told) {
  context.screen.line(context.screen.toned(Tone::strong, name) +
                      (told.empty() ? ": nothing changed" : ""));
  for (const std::string& line : told) context.screen.line("  " + context.screen.in_lines(line, 2));
}

// A trial or a treatment, alone: what is kept of it.
int show_other(Context& context, logbook::Logbook& logbook, const logbook::Named& named) {
  const bool trial = named.kind == logbook::NameKind::trial;
  if (context.json) {
    Json answer{{"name", named.name}, {"changed", Json::array()}, {"sowing", nullptr}};
    if (trial)
      answer["trial"] = trial_answer(context, logbook, named.name);
    else
      answer["treatment"] = treatment_answer(logbook, named.name);
    print_json(context, answer);
  } else if (trial) {
    show_trial(context, logbook, named.name);
  } else {
    show_treatment(context, logbook, named.name);
  }
  return 0;
}

// A trial has no ending of its own: its sowings have.
void refuse_to_reopen(logbook::Logbook& logbook, const std::string& trial) {
  logbook::Selection selection;
  selection.trial = trial;
  std::string ended;
  logbook::each_history(logbook, selection, [&](const records::History& history) {
    if (!history.sowing.open()) ended += ' ' + history.sowing.dated_label();
  });
  throw records::Refused(
      ended.empty()
          ? fmt::format("No sowing of trial {} has ended.", trial)
          : fmt::format("A trial is open while its sowings are: plumule amend{} --reopen.", ended));
}

// A trial, a treatment or a note on a lot, where the name is one of these and of no sowing.
int amend_other(Context& context, const Arguments& arguments, logbook::Logbook& logbook,
                const Typed& typed) {
  const logbook::Named named = logbook::named(logbook, typed.names[0]);
  const bool trial = named.kind == logbook::NameKind::trial;
  const bool note = arguments.has("seen");
  if (named.kind == logbook::NameKind::lot && !note)
    throw records::Refused(
        fmt::format("{0} is a lot: plumule lot {0} changes it, plumule note "
                    "{0} shows its notes.",
                    named.name));
  if (named.kind != logbook::NameKind::lot && !trial && named.kind != logbook::NameKind::treatment)
    throw records::Refused(named.name + " is no sowing, trial or treatment.");
  if (!changes_anything(typed, arguments)) return show_other(context, logbook, named);
  if (note && (gives_trial_plan(arguments) || changes_sowing(arguments)))
    throw WrongUsage("--seen corrects a note: what else is to change, in a command of its own.");
  if (trial && arguments.flag("reopen")) refuse_to_reopen(logbook, named.name);
  if (!note && !(trial ? gives_trial_plan(arguments) : gives_treatment_facts(arguments)))
    throw WrongUsage(trial
                         ? "What of the trial? --question, --until, --every, --worth, --blind."
                         : "What of the treatment? --soak, --water, --scarify, --chill, --prime.");
  logbook::Entry entry = begin(logbook, context);
  const std::vector<std::string> told = note    ? amend_note(entry, arguments, named, typed.figure)
                                        : trial ? amend_trial(entry, arguments, named.name)
                                                : amend_treatment(entry, arguments, named.name);
  entry.say("Amended " + named.name + (told.empty() ? "" : ": " + told[0]));
  entry.commit();
  if (context.json)
    print_json(context, {{"name", named.name}, {"changed", told}, {"sowing", nullptr}});
  else
    show(context, named.name, told);
  return 0;
}

// Without anything to change: what is kept of each.
int show_all(Context& context, logbook::Logbook& logbook, const Typed& typed) {
  if (context.json && typed.names.size() > 1)
    throw WrongUsage("With --json one sowing at a time is shown.");
  for (const std::string& name : typed.names) {
    const records::Sowing sowing = logbook::sowing_named(logbook, name);
    if (context.json)
      print_json(context, {{"name", sowing.label},
                           {"changed", Json::array()},
                           {"sowing", course_answer(logbook, sowing)}});
    else
      show_course(context, logbook, sowing);
  }
  return 0;
}

int amend_all(Context& context, const Arguments& arguments, logbook::Logbook& logbook,
              const Typed& typed) {
  std::vector<records::Sowing> sowings;
  for (const std::string& name : typed.names)
    sowings.push_back(logbook::sowing_named(logbook, name));
  logbook::Entry entry = begin(logbook, context);
  std::vector<std::vector<std::string>> told;
  std::vector<std::string> names;
  std::string first;
  for (const records::Sowing& sowing : sowings) {
    told.push_back(amend(entry, arguments, typed, sowing));
    names.push_back(name_of(logbook::sowing_by_id(logbook, sowing.id)));
    if (first.empty() && !told.back().empty()) first = ": " + told.back()[0];
  }
  entry.say("Amended " + listed(names) + first);
  entry.commit();
  if (context.json) {
    std::vector<std::string> all;
    for (std::size_t i = 0; i < told.size(); ++i)
      for (const std::string& line : told[i])
        all.push_back(told.size() == 1 ? line : names[i] + ": " + line);
    const records::Sowing now = logbook::sowing_by_id(logbook, sowings[0].id);
    print_json(context,
               {{"name", now.label}, {"changed", all}, {"sowing", course_answer(logbook, now)}});
    return 0;
  }
  for (std::size_t i = 0; i < told.size(); ++i) show(context, names[i], told[i]);
  constexpr std::array judged = {"trial", "block",    "treatment", "soak",    "lot",
                                 "seeds", "clusters", "cells",     "unknown", "jar"};
  if (std::any_of(judged.begin(), judged.end(),
                  [&](const char* option) { return arguments.has(option); }))
    for (const std::string& line : changed_after_counts(logbook, sowings))
      context.screen.paragraph(line);
  if (arguments.has("jar"))
    for (const std::string& line : jars_so_far(logbook, sowings)) context.screen.paragraph(line);
  return 0;
}

int run(Context& context, const Arguments& arguments) {
  // Opened to be written in where anything beside names is typed.
  const bool options = changes_anything({}, arguments);
  const bool figure =
      arguments.words().size() > 1 || figure_at(arguments.words()[0]) != std::string::npos;
  const bool writes = options || figure;
  logbook::Logbook logbook =
      open_logbook(context, writes ? logbook::Access::write : logbook::Access::read);
  const Typed typed = typed_words(logbook, arguments);
  refuse_several(typed, arguments);
  const std::string& name = typed.names[0];
  const bool other =
      typed.names.size() == 1 && !changes_count(typed, arguments) &&
      (name.starts_with("trial:") || name.starts_with("treatment:") || name.starts_with("lot:") ||
       (!logbook::find_sowing(logbook, name) && name.find('@') == std::string::npos));
  if (other) return amend_other(context, arguments, logbook, typed);
  if (!changes_anything(typed, arguments)) return show_all(context, logbook, typed);
  return amend_all(context, arguments, logbook, typed);
}

}  // namespace

extern const Command amend_command;
const Command amend_command{
    .name = "amend",
    .group = Group::keep,
    .summary = "put a mistake right",
    .about =
        "Corrects what was entered: a count, a field of a sowing, an ending, what was kept aside, "
        "an assessment, a temperature, a note; "
        "with trial:NAME the trial's plan, with treatment:NAME the treatment's facts. It shows "
        "what it was before; the logbook keeps that too, with who changed it and when, and a name "
        "alone shows all of it.",
    .example = "plumule amend R2=15 --on 2026-05-08",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
