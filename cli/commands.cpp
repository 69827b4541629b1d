// The list of commands: one line each, in the order of the help page. `one(name)` expects the
// command as `const Command name_command` in command_NAME.cpp.
#include "command.hpp"

// Keep the log; answer from it; plan, print, show; mind the file, know the trade.
#define PLUMULE_COMMANDS(one) one(pages)

namespace plumule::cli {

#define PLUMULE_DECLARE(name) extern const Command name##_command;
PLUMULE_COMMANDS(PLUMULE_DECLARE)
#undef PLUMULE_DECLARE

std::span<const Command* const> commands() {
#define PLUMULE_LIST(name) &name##_command,
  static const Command* const all[] = {PLUMULE_COMMANDS(PLUMULE_LIST)};
#undef PLUMULE_LIST
  return all;
}

const Command* find_command(std::string_view name) {
  for (const Command* command : commands())
    if (command->name == name) return command;
  return nullptr;
}

}  // namespace plumule::cli
