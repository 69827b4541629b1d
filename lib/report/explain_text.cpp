#include "report/explain_text.hpp"

#include <algorithm>

namespace plumule::report {

std::string explain_text(const Style& style, const analysis::Explanation& explained) {
  std::string text =
      toned(style, Tone::strong, explained.word) + ": " + std::string(explained.title) + '\n';
  text += paragraph(style, explained.meaning);
  text += '\n';
  const auto line = [&](const char* name, std::string_view value) {
    if (!value.empty()) text += entry(style, name, value, 8, 0);
  };
  line("formula", explained.formula);
  line("unit", explained.unit);
  line("assumes", explained.assumes);
  line("misleads", explained.misleads);
  line("source", explained.source);
  line("also", explained.also);
  return text;
}

std::string explain_list_text(const Style& style,
                              const std::vector<const analysis::Explanation*>& entries) {
  int width = 0;
  for (const auto* entry : entries) width = std::max(width, columns(entry->word));
  std::string text;
  for (const auto* entry : entries)
    text += left(entry->word, width + 2) + std::string(entry->title) + '\n';
  return text + paragraph(style, "One of them: plumule explain WORD");
}

}  // namespace plumule::report
