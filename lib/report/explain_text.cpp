#include "report/explain_text.hpp"

#include <algorithm>

namespace plumule::report {

std::string explain_text(const Style& style, const analysis::Explanation& entry) {
  std::string text =
      toned(style, Tone::strong, entry.word) + ": " + std::string(entry.title) + '\n';
  text += paragraph(style, entry.meaning);
  text += '\n';
  const auto line = [&](const char* name, std::string_view value) {
    if (!value.empty())
      text += paragraph(style, std::string(name) + " " + std::string(value), 10, 0);
  };
  line("formula  ", entry.formula);
  line("unit     ", entry.unit);
  line("assumes  ", entry.assumes);
  line("misleads ", entry.misleads);
  line("source   ", entry.source);
  line("also     ", entry.also);
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
