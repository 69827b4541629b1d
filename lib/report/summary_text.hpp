// What came up, as text: a line a group, or the whole of a group.
#pragma once

#include <string>

#include "analysis/group.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

// The head of the list, and its lines as the groups come.
std::string summary_header(const Style& style, std::string_view grouped_by, double level);
std::string summary_line(const Style& style, const analysis::Group& group);
// All of one group, within a screen; with `full` also the gaps, the model and the agreement.
std::string summary_detail(const Style& style, const analysis::Group& group, bool full);
// What the figures rest on: method and prior, last.
std::string summary_method(const Style& style, const analysis::Group& group);

}  // namespace plumule::report
