// Help: the page of all commands, and one command's own.
#pragma once

#include <string>
#include <string_view>

#include "cli/command.hpp"

namespace plumule::cli {

std::string_view heading(Group group);

// All commands by group in two columns: fits a screen of 80 by 24.
std::string overview(const Screen& screen);

enum class HelpPage { usual, whole };

// What a command does, what it takes and an example. The usual page of a command with many options
// explains those that most need and names the others under their headings.
std::string help_of(const Command& command, const Screen& screen, HelpPage page);

// "plumule count [PAIR...] [options]".
std::string usage_of(const Command& command, const Options& options);

}  // namespace plumule::cli
