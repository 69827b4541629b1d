// From the words typed to a command, and from whatever goes wrong to one sentence and an exit
// status.
#include <fmt/format.h>

#include <cstdio>
#include <ctime>

#include "cli/command.hpp"
#include "cli/help/help.hpp"
#include "cli/outlet.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/typed_words.hpp"
#include "logbook/logbook.hpp"
#include "logbook/record/find.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

constexpr int done = 0, wrong_usage = 2, unusable = 3, kept_unsaid = 4;

records::Date local_today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return std::chrono::year(local.tm_year + 1900) / (local.tm_mon + 1) / local.tm_mday;
}

// The journal keeps what was typed, but not where the logbook lies.
std::string as_typed(const std::vector<std::string>& typed) {
  std::string out = "plumule";
  for (std::size_t i = 0; i < typed.size(); ++i) {
    if (typed[i] == "--log") {
      ++i;
      continue;
    }
    if (!typed[i].starts_with("--log=")) out += " " + quoted(typed[i]);
  }
  return out;
}

// The first word that is no option of everywhere's, nor the value of one.
std::size_t command_at(const std::vector<std::string>& typed) {
  for (std::size_t i = 0; i < typed.size(); ++i) {
    if (!typed[i].starts_with("-") || typed[i] == "-") return i;
    const Option* option =
        typed[i].size() > 2 ? everywhere().find(std::string_view(typed[i]).substr(2)) : nullptr;
    if (option != nullptr && option->takes != Takes::flag) ++i;
  }
  return typed.size();
}

const Command& command_named(const std::string& name) {
  if (const Command* command = find_command(name)) return *command;
  std::vector<std::string> known;
  for (const Command* command : commands())
    if (command->group != Group::hidden) known.emplace_back(command->name);
  const std::vector<std::string> near = records::nearest(name, known);
  throw WrongUsage(
      near.empty() ? fmt::format("There is no command \"{}\". All of them: plumule --help", name)
                   : fmt::format("There is no command \"{}\". Did you mean {}?", name, near[0]));
}

int without_command(const std::vector<std::string>& typed) {
  for (const std::string& word : typed)
    if (word == "--version") {
      for (const std::string& other : typed)
        if (other == "--json")
          throw WrongUsage("--json and --version are both given, and a version is no JSON.");
      std::fputs("plumule " PLUMULE_VERSION "\n", stdout);
      return done;
    }
  const Options none;
  read_arguments(none, typed, local_today());
  std::fputs(overview(Screen::of_terminal()).c_str(), stdout);
  return done;
}

// What was being done when something went wrong.
struct Doing {
  std::string log;  // as it was named, "--log beans.db"
  const Command* command = nullptr;
  Context context;
};

void complain(std::string sentence, const Doing& doing) {
  const bool writing =
      doing.command != nullptr && doing.command->writes && !doing.context.reads_only;
  if (doing.context.kept)
    sentence += ' ' + doing.context.kept_words;
  else if (writing)
    sentence += " Nothing saved.";
  Screen screen = Screen::of_terminal();
  screen.repeat_log(doing.log);
  screen.remark(sentence);
}

int run_command(const std::vector<std::string>& typed, Doing& doing) {
  std::size_t at = command_at(typed);
  if (at < typed.size() && typed[at] == "help") {  // help, help COMMAND
    std::vector<std::string> turned = typed;
    turned.erase(turned.begin() + static_cast<std::ptrdiff_t>(at));
    turned.emplace_back("--help");
    return run_command(turned, doing);
  }
  if (at == typed.size()) return without_command(typed);
  doing.command = &command_named(typed[at]);
  Options options;
  doing.command->declare(options);
  std::vector<std::string> rest = typed;
  rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(at));
  const Arguments arguments = read_arguments(options, rest, local_today());
  if (arguments.flag("help") || arguments.flag("help-all")) {
    if (arguments.flag("json"))
      throw WrongUsage(fmt::format("--json and --{} are both given, and a help page is no JSON.",
                                   arguments.flag("help") ? "help" : "help-all"));
    const auto pages = arguments.flag("help-all") ? HelpPage::whole : HelpPage::usual;
    std::fputs(help_of(*doing.command, Screen::of_terminal(), pages).c_str(), stdout);
    return done;
  }
  doing.context = make_context(arguments, local_today(), as_typed(typed));
  doing.context.screen.repeat_log(doing.log);
  return doing.command->run(doing.context, arguments);
}

}  // namespace

int run(const std::vector<std::string>& typed) {
  occupy_closed_files();
  Doing doing;
  doing.log = log_typed(typed);
  int status = unusable;
  try {
    status = run_command(typed, doing);
    if (const auto trouble = output_trouble(doing.context.kept)) {
      doing.context.reads_only = true;  // of what was refused its own sentence said so
      complain(
          "The answer could not be written out: " + *trouble + (trouble->ends_with('?') ? "" : "."),
          doing);
      status = doing.context.kept ? kept_unsaid : unusable;
    }
  } catch (const records::Refused& refused) {
    complain(in_words(refused), doing);
    status = 1;
  } catch (const WrongUsage& wrong) {
    complain(wrong.what(), doing);
    if (doing.command != nullptr)
      complain(fmt::format("How to use it: plumule {} --help", doing.command->name), {});
    status = wrong_usage;
  } catch (const logbook::Stands& trouble) {
    doing.context.reads_only = true;  // "Nothing saved" would not be true
    complain(in_words(trouble) + (trouble.sure()
                                      ? " What was to be written is kept all the same."
                                      : " Whether it was saved is not sure; plumule undo --list "
                                        "shows what was."),
             doing);
  } catch (const logbook::Unusable& trouble) {
    complain(in_words(trouble), doing);
  } catch (const std::bad_alloc&) {
    complain("There is not enough memory for this.", doing);
  } catch (...) {
    complain(
        "Something went wrong inside plumule. The logbook keeps what was saved before; plumule "
        "check looks it over.",
        doing);
  }
  return status;
}

}  // namespace plumule::cli
