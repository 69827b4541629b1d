// The meaning of a figure, test or index, as text and as JSON.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "analysis/explain/explanation.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// A part of an explanation with what it leads on to, in the front end's words where there are some.
std::string explained_words(std::string_view text, records::Advice after, HintWords hints);

std::string explain_text(const Style& style, const analysis::Explanation& explained);
// Every word, theme by theme.
std::string explain_list_text(const Style& style, const std::vector<analysis::Theme>& themes);

std::string explain_json(const analysis::Explanation& entry, HintWords hints = nullptr);
std::string explain_list_json(const std::vector<const analysis::Explanation*>& entries,
                              HintWords hints = nullptr);

}  // namespace plumule::report
