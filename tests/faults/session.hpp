// The command in this process: words in, what it printed and its status out; and what a folder
// holds, as a grower would have it.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace plumule::tests {

struct Answer {
  int status = -1;
  std::string out, err;
};

// As typed, "{}" in a word being the folder; `input` is what its standard input gives.
Answer run_command(const std::vector<std::string>& words, const std::string& folder,
                   const std::string& input = "");

// Splits at spaces; '...' is one word.
std::vector<std::string> words_of(const std::string& line);

// Puts `from` in the place of the folder `to`: files and folders in it.
void copy_folder(const std::string& from, const std::string& to);

// What each file of the folder holds: of a logbook all rows, of another its bytes. Without what no
// grower asks for: journals, and what a stopped command left half done (.part).
using Holdings = std::map<std::string, std::string>;
// Throws Unusable where a logbook cannot be read, std::runtime_error where `check` finds fault.
Holdings holdings_of(const std::string& folder);

}  // namespace plumule::tests
