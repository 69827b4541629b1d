// Prints the manual page or a shell's completions; the build runs it to install them.
#include "cli/command.hpp"
#include "cli/help/man_page.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) { options.words("KIND", "man, bash, zsh, fish, or list", 1, 1); }

// Name, summary and example of each command, between tabs: for tests and scripts.
void list(const Context& context) {
  for (const Command* command : commands())
    context.screen.line(std::string(command->name) + "\t" + std::string(command->summary) + "\t" +
                        std::string(command->example));
}

int show(Context& context, const Arguments& arguments) {
  const std::string& kind = arguments.words()[0];
  if (context.json) throw WrongUsage("--json: these pages are no JSON.");
  if (kind == "man")
    context.screen.print(man_page());
  else if (kind == "bash")
    context.screen.print(bash_completion());
  else if (kind == "zsh")
    context.screen.print(zsh_completion());
  else if (kind == "fish")
    context.screen.print(fish_completion());
  else if (kind == "list")
    list(context);
  else
    throw WrongUsage("There are pages for man, bash, zsh and fish, and a list.");
  return 0;
}

}  // namespace

extern const Command pages_command;
const Command pages_command{.name = "pages",
                            .group = Group::hidden,
                            .summary = "manual page and completions",
                            .about =
                                "Prints the manual page (man) or the completions of a shell (bash, "
                                "zsh, fish); list names the commands with their examples.",
                            .example = "plumule pages bash",
                            .declare = declare,
                            .run = show};

}  // namespace plumule::cli
