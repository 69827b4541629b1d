// The meaning of a figure, test or index, as text and as JSON.
#pragma once

#include <string>
#include <vector>

#include "analysis/explain/explanation.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

std::string explain_text(const Style& style, const analysis::Explanation& explained);
// Every word, theme by theme.
std::string explain_list_text(const Style& style, const std::vector<analysis::Theme>& themes);

std::string explain_json(const analysis::Explanation& entry);
std::string explain_list_json(const std::vector<const analysis::Explanation*>& entries);

}  // namespace plumule::report
