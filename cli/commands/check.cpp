// Looking the whole logbook over.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/typed_words.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/upkeep/accept.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.flag("accept",
               "take the file as another program left it, where every rule holds; a copy of it as "
               "it is now is kept");
}

logbook::Logbook open_as_found(Context& context) {
  context.reads_only = true;
  logbook::Logbook opened = logbook::Logbook::open_as_found(context.log);
  tell_opening(context, opened);
  if (opened.rolled_back())
    context.screen.remark(
        "A command had been stopped in the midst of writing. What it had half written was taken "
        "back: it had not said that it was done.");
  return opened;
}

// Advice is given only where it works.
bool can_be_exported(logbook::Logbook& logbook) {
  try {
    logbook::export_flat_log(logbook, [](std::string_view) {});
    return true;
  } catch (const logbook::Hindered&) {
    throw;  // no memory, or a disk that fails: no word about what is in it
  } catch (const logbook::Unusable&) {
    return false;
  }
}

void say_what_to_do(const Context& context, logbook::Logbook& logbook, bool rules_hold) {
  const std::string restore = "plumule --log " + quoted(context.log) + " restore COPY.db";
  if (rules_hold) {
    context.screen.paragraph(
        "Every rule of the record holds all the same. What to do: if you changed it with another "
        "program, and it is to hold: plumule --log " +
        quoted(context.log) +
        " check --accept. A copy of the file as it is now is kept. If not, go back to your last "
        "backup: " +
        restore);
    return;
  }
  std::string advice = "What to do: " + restore;
  advice += " puts your last backup in its place, and keeps this file as it is. Without one";
  if (can_be_exported(logbook))
    advice.append(": plumule --log ")
        .append(quoted(context.log))
        .append(
            " export --damaged FILE.csv saves what can be read. Look over each figure of it, and "
            "import it into a new logbook.");
  else
    advice += " its sowings cannot be read any more. Keep the file all the same.";
  context.screen.paragraph(advice);
}

int look_over(Context& context) {
  logbook::Logbook logbook = open_as_found(context);
  const logbook::Checked checked = logbook::look_over(logbook);
  std::vector<std::string> troubles;
  for (const records::Refusal& trouble : checked.wrong) troubles.push_back(in_words(trouble));
  if (context.json) {
    print_json(context, {{"logbook", context.log},
                         {"sound", troubles.empty()},
                         {"troubles", troubles},
                         {"acceptable", !troubles.empty() && checked.rules_hold}});
  } else if (troubles.empty()) {
    context.screen.paragraph(
        "Sound: its structure, its keys, every rule of the record and the journal hold.");
  } else {
    context.screen.line(number_of(static_cast<std::int64_t>(troubles.size()), "thing") +
                        " wrong in this logbook:");
    for (const std::string& trouble : troubles) context.screen.paragraph("  " + trouble);
    say_what_to_do(context, logbook, checked.rules_hold);
  }
  return troubles.empty() ? 0 : 1;
}

int take_as_it_is(Context& context) {
  context.reads_only = true;  // each refusal says itself that all is as it was
  const logbook::Accepted accepted = logbook::accept(context.log);
  tell(context, accepted.leftovers);
  if (!accepted.former.empty())
    made(context,
         "It was taken as it is all the same; a copy of it as it was: " + accepted.former + '.');
  if (context.json) {
    print_json(context, {{"logbook", context.log},
                         {"commands", accepted.commands},
                         {"former", accepted.former.empty() ? Json() : Json(accepted.former)}});
  } else if (accepted.former.empty()) {
    context.screen.line("It is as it was written: there is nothing to accept.");
  } else {
    context.screen.line("Taken as it is: " + context.log);
    for (const std::string& command : accepted.commands)
      context.screen.paragraph("  What \"" + command + "\" wrote holds now as it stands.");
    context.screen.line("The file as it was found is kept: " + accepted.former);
  }
  return 0;
}

int run(Context& context, const Arguments& arguments) {
  return arguments.flag("accept") ? take_as_it_is(context) : look_over(context);
}

}  // namespace

extern const Command check_command;
const Command check_command{.name = "check",
                            .group = Group::mind,
                            .summary = "look the logbook over",
                            .about =
                                "Verifies that every page is as it was written, the file's "
                                "structure, its keys, every rule of the record over every sowing, "
                                "the journal, and that all that each command wrote stands. Changes "
                                "nothing. Exit status 1 where something is wrong.",
                            .example = "plumule check",
                            .declare = declare,
                            .run = run};

}  // namespace plumule::cli
