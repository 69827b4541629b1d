#include "report/explanation.hpp"

#include <algorithm>

namespace plumule::report {

std::string explained_words(std::string_view text, records::Advice after, HintWords hints) {
  if (after == records::Advice::none) return std::string(text);
  return hinted(hints, text, {after}, after == records::Advice::look_sources_up ? "" : ".");
}

std::string explain_text(const Style& style, const analysis::Explanation& explained) {
  std::string text =
      toned(style, Tone::strong, explained.word) + ": " + std::string(explained.title) + '\n';
  text +=
      paragraph(style, explained_words(explained.meaning, explained.after_meaning, style.hints));
  text += '\n';
  const auto line = [&](const char* name, std::string_view value) {
    if (!value.empty()) text += entry(style, name, value, 8, 0);
  };
  line("formula", explained.formula);
  line("unit", explained.unit);
  line("assumes", explained.assumes);
  line("misleads", explained_words(explained.misleads, explained.after_misleads, style.hints));
  line("source", explained_words(explained.source, explained.after_source, style.hints));
  std::string also(explained.also);
  for (std::size_t at = 0; (at = also.find(' ', at)) != std::string::npos; at += 2)
    also.replace(at, 1, ", ");
  line("also", also);
  return text;
}

std::string explain_list_text(const Style& style, const std::vector<analysis::Theme>& themes) {
  std::string text;
  for (const auto& theme : themes) {
    std::vector<std::string_view> words;
    for (const auto& entry : theme.entries) words.push_back(entry.word);
    std::sort(words.begin(), words.end());
    std::string list;
    for (const auto word : words) list += (list.empty() ? "" : ", ") + std::string(word);
    text += toned(style, Tone::strong, theme.name) + '\n' + paragraph(style, list, 2);
  }
  return text + paragraph(style, hinted(style.hints, "", {records::Advice::explain_one}));
}

}  // namespace plumule::report
