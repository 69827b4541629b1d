// What the environment says: where the logbook lies, who is asking.
#include <cstdlib>

#include "cli/command.hpp"
#include "records/count.hpp"
#include "records/letters.hpp"

namespace plumule::cli {
namespace {

std::string environment(const char* variable) {
  const char* value = std::getenv(variable);
  return value == nullptr ? std::string() : std::string(value);
}

std::string logbook_path(const Arguments& arguments) {
  if (const auto given = arguments.text("log")) {
    if (given->empty()) throw WrongUsage("--log needs a value: the logbook's file.");
    return *given;
  }
  if (std::string set = environment("PLUMULE_LOG"); !set.empty()) return set;
  if (const std::string data = environment("XDG_DATA_HOME"); !data.empty())
    return data + "/plumule/plumule.db";
  const std::string home = environment("HOME");
  if (home.empty())
    throw WrongUsage("No logbook is known: $HOME is not set. Name one with --log FILE.");
  return home + "/.local/share/plumule/plumule.db";
}

std::string person(const Arguments& arguments) {
  std::string name = arguments.text("who").value_or("");
  if (name.empty()) name = environment("PLUMULE_WHO");
  if (name.empty()) name = environment("USER");
  if (name.empty()) name = records::nobody_named;
  if (name.size() > 64 || name.find('\t') != std::string::npos || records::control_in(name))
    throw WrongUsage("--who: a name has at most 64 letters, in one line.");
  return name;
}

}  // namespace

Context make_context(const Arguments& arguments, records::Date today, std::string command) {
  Context context;
  context.log = logbook_path(arguments);
  context.json = arguments.flag("json");
  context.today = arguments.date("today").value_or(today);
  context.by = person(arguments);
  context.command = std::move(command);
  context.screen = Screen::of_terminal();
  if (context.json) context.screen.answer_in_json();
  return context;
}

}  // namespace plumule::cli
