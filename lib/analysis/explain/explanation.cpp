#include "analysis/explain/explanation.hpp"

#include <algorithm>
#include <cctype>

namespace plumule::analysis {

namespace {

// Lower case, and one '_' between the parts.
std::string plain(std::string_view word) {
  std::string result;
  for (const char c : word) {
    const auto letter = static_cast<unsigned char>(c);
    if (c == '-' || c == ' ' || c == '_' || c == ',') {
      if (!result.empty() && result.back() != '_') result += '_';
    } else if (c != '\'') {
      result += static_cast<char>(std::tolower(letter));
    }
  }
  while (!result.empty() && result.back() == '_') result.pop_back();
  return result;
}

// Without what stands in parentheses, and without figures and per cent signs by themselves.
std::string without_figures(std::string_view word) {
  std::string result;
  int deep = 0;
  for (const char c : word) {
    if (c == '(') ++deep;
    if (deep == 0) result += c;
    if (c == ')' && deep > 0) --deep;
  }
  const std::string typed = plain(result);
  std::string kept;
  for (std::size_t at = 0; at < typed.size();) {
    const std::size_t end = std::min(typed.find('_', at), typed.size());
    const std::string part = typed.substr(at, end - at);
    if (part.find_first_not_of("0123456789.%+") != std::string::npos)
      kept += (kept.empty() ? "" : "_") + part;
    at = end + 1;
  }
  return kept;
}

std::vector<std::string> names(const Explanation& entry) {
  std::vector<std::string> list = {std::string(entry.word)};
  std::string_view rest = entry.also;
  while (!rest.empty()) {
    const auto end = std::min(rest.find(' '), rest.size());
    if (end > 0) list.emplace_back(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return list;
}

}  // namespace

std::vector<Theme> explained_themes() {
  return {{"What is kept", words_of_what_is_kept()},
          {"What was sown and seen", words_of_the_record()},
          {"Crops, and what is expected", words_of_crops()},
          {"How many came up", words_of_the_stand()},
          {"Chance and ranges", words_of_chance()},
          {"When they came up", words_of_days()},
          {"Curves of time", words_of_models()},
          {"One treatment against another", words_of_comparison()},
          {"Tests", words_of_tests()},
          {"Verdicts", words_of_decisions()}};
}

std::vector<const Explanation*> explanations() {
  std::vector<const Explanation*> all;
  for (const Theme& theme : explained_themes())
    for (const auto& entry : theme.entries) all.push_back(&entry);
  std::sort(all.begin(), all.end(),
            [](const Explanation* a, const Explanation* b) { return a->word < b->word; });
  return all;
}

namespace {

const Explanation* entry_of(const std::string& wanted) {
  if (wanted.empty()) return nullptr;
  const Explanation* by_other_name = nullptr;
  for (const auto* entry : explanations()) {
    if (plain(entry->word) == wanted) return entry;
    for (const auto& name : names(*entry))
      if (plain(name) == wanted) by_other_name = entry;
  }
  return by_other_name;
}

}  // namespace

const Explanation* explain(std::string_view word) {
  if (const auto* entry = entry_of(plain(word))) return entry;
  if (const auto* entry = entry_of(without_figures(word))) return entry;
  if (word.find(',') == std::string_view::npos) return nullptr;
  while (true) {
    const std::size_t end = std::min(word.find(','), word.size());
    if (const auto* entry = entry_of(without_figures(word.substr(0, end)))) return entry;
    if (end == word.size()) return nullptr;
    word.remove_prefix(end + 1);
  }
}

std::vector<const Explanation*> explained_near(std::string_view word, std::size_t most) {
  const std::string wanted = plain(word);
  std::vector<const Explanation*> near;
  if (wanted.size() < 3) return near;
  for (const auto* entry : explanations()) {
    bool holds = plain(entry->title).find(wanted) != std::string::npos;
    for (const auto& name : names(*entry))
      holds = holds || plain(name).find(wanted) != std::string::npos;
    if (holds && near.size() < most) near.push_back(entry);
  }
  return near;
}

std::vector<std::string> explained_words() {
  std::vector<std::string> list;
  for (const auto* entry : explanations())
    for (auto& name : names(*entry)) list.push_back(std::move(name));
  return list;
}

}  // namespace plumule::analysis
