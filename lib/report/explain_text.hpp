// The meaning of a figure, test or index, as text.
#pragma once

#include <string>
#include <vector>

#include "analysis/explanation.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string explain_text(const Style& style, const analysis::Explanation& explained);
// Every word, theme by theme.
std::string explain_list_text(const Style& style, const std::vector<analysis::Theme>& themes);

}  // namespace plumule::report
