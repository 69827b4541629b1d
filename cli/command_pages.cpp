// Prints the manual page or a shell's completions; the build runs it to install them.
#include "cli/command.hpp"
#include "cli/man_page.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) { options.words("KIND", "man, bash, zsh or fish", 1, 1); }

int show(Context& context, const Arguments& arguments) {
  const std::string& kind = arguments.words()[0];
  if (kind == "man")
    context.screen.print(man_page());
  else if (kind == "bash")
    context.screen.print(bash_completion());
  else if (kind == "zsh")
    context.screen.print(zsh_completion());
  else if (kind == "fish")
    context.screen.print(fish_completion());
  else
    throw WrongUsage("There are pages for man, bash, zsh and fish.");
  return 0;
}

}  // namespace

extern const Command pages_command;
const Command pages_command{
    .name = "pages",
    .group = Group::hidden,
    .summary = "manual page and completions",
    .about = "Prints the manual page (man) or the completions of a shell (bash, zsh, fish).",
    .example = "plumule pages bash",
    .declare = declare,
    .run = show};

}  // namespace plumule::cli
