// The meaning of a figure, test or index, as text.
#pragma once

#include <string>
#include <vector>

#include "analysis/explanation.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string explain_text(const Style& style, const analysis::Explanation& explained);
std::string explain_list_text(const Style& style,
                              const std::vector<const analysis::Explanation*>& entries);

}  // namespace plumule::report
