// Refusing words that could not be shown in a table, in one sentence form for all fields.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace plumule::records {

inline constexpr std::size_t longest_name = 64;    // of a crop, a variety, a place
inline constexpr std::size_t longest_words = 400;  // of a source, a medium, a reason

// Throws Refused `WHAT is N letters long; M is the most.`, or where a line ends within the text.
// Letters are counted, not the bytes of UTF-8.
void refuse_long(const std::string& what, std::string_view text, std::size_t most);

}  // namespace plumule::records
