// What a command is, and what every command is given: where the logbook lies, who is asking, which
// day it is, and how to show the answer.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "cli/options/arguments.hpp"
#include "cli/options/options.hpp"
#include "cli/showing/screen.hpp"
#include "records/date.hpp"

namespace plumule::cli {

// In this order on the help page.
enum class Group { keep, answer, plan, mind, hidden };

struct Context {
  std::string log;  // the logbook's path; the file may not be there
  bool json = false;
  records::Date today{};
  std::string by;       // --who, $PLUMULE_WHO, $USER, "somebody"; 1 to 64 bytes
  std::string command;  // as typed, without the logbook's path: for the journal
  Screen screen;
  bool reads_only = false;  // known not to write: a refusal need not say that nothing was saved
  bool kept = false;        // something was written and is durable, whatever comes now
  // Said where it was kept and its answer cannot be given.
  std::string kept_words =
      "The command is done, and what it wrote is kept: do not type it again. plumule undo --list "
      "shows it.";
};

struct Command {
  std::string_view name;
  Group group = Group::keep;
  std::string_view summary;  // at most 27 letters: its place on the help page
  std::string_view about;    // whole sentences, for its own help
  std::string_view example;  // one line that runs on the logbook of `plumule demo`
  bool writes = false;       // a refusal ends with "Nothing saved."
  void (*declare)(Options& options) = nullptr;
  // The exit status: 0 done, 1 refused. Whatever is to last is kept before the answer is printed;
  // a command that writes otherwise than through the logbook calls `made`. Throws records::Refused,
  // logbook::Unusable, WrongUsage.
  int (*run)(Context& context, const Arguments& arguments) = nullptr;
};

// Every command, in the order of the help page; null where there is none of that name.
std::span<const Command* const> commands();
const Command* find_command(std::string_view name);

// Reads what every command takes (--log, --json, --today, --who) and the environment.
Context make_context(const Arguments& arguments, records::Date today, std::string command);

// Runs the command line (without the program's name) and returns the exit status: 0 done,
// 1 refused, 2 wrong usage, 3 the logbook could not be read or written, 4 done and kept, but the
// answer could not be given. Never throws.
int run(const std::vector<std::string>& typed);

}  // namespace plumule::cli
