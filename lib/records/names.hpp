// Lists of names in a sentence, and the names that a mistyped one may have meant.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace plumule::records {

// "a, b and c"; `last` stands before the last one.
std::string listed(const std::vector<std::string>& names, std::string_view last = "and");

// The same of at most so many: "a, b, c and 4 more".
std::string listed_some(const std::vector<std::string>& names, std::size_t most);

// Up to three of `known` nearest in spelling (case-blind; letters swapped, missing, added,
// changed), the likeliest first: what may have been meant.
std::vector<std::string> nearest(const std::string& typed, const std::vector<std::string>& known);

}  // namespace plumule::records
