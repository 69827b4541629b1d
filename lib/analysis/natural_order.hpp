// The order in which a grower reads labels: A2 before A10.
#pragma once

#include <string_view>

namespace plumule::analysis {

// Digits by their value, the rest letter by letter. A strict order: names that differ only in
// leading noughts are told apart letter by letter.
bool natural_less(std::string_view a, std::string_view b);

}  // namespace plumule::analysis
