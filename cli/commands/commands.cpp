// The list of commands: one line each, in the order of the help page. `one(name)` expects the
// command as `const Command name_command` in NAME.cpp.
#include "cli/command.hpp"

// clang-format off
#define PLUMULE_COMMANDS(one) \
  one(init) \
  one(lot) \
  one(sow) \
  one(count) \
  one(temp) \
  one(assess) \
  one(end) \
  one(note) \
  one(amend) \
  one(undo) \
  one(today) \
  one(summary) \
  one(compare) \
  one(viability) \
  one(reckon) \
  one(import) \
  one(export) \
  one(backup) \
  one(restore) \
  one(check) \
  one(crops) \
  one(explain) \
  one(demo) \
  one(pages)
// clang-format on

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
