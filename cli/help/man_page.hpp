// The manual page and the shell completions, laid out from the commands' own declarations.
#pragma once

#include <string>

namespace plumule::cli {

std::string man_page();  // roff, section 1
std::string bash_completion();
std::string zsh_completion();
std::string fish_completion();

}  // namespace plumule::cli
