// What a reader is to type, as a shell passes it on and as the logbook at hand needs it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace plumule::cli {

// The word as it is where no shell reads a sign in it, else in single quotes.
std::string quoted(const std::string& word);

// The logbook where the command line names it, as it is typed again: "--log beans.db"; else empty.
std::string log_typed(const std::vector<std::string>& typed);

// The text with that option behind each "plumule" that a command follows ("plumule undo"), but for
// what stands in double quotes or brackets: a command of before.
std::string with_log(std::string_view text, std::string_view option);

}  // namespace plumule::cli
