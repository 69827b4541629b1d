#include "analysis/explanation.hpp"

#include <algorithm>
#include <cctype>

namespace plumule::analysis {

namespace {

std::string plain(std::string_view word) {
  std::string result;
  for (const char c : word) {
    const auto letter = static_cast<unsigned char>(c);
    result += c == '-' || c == ' ' ? '_' : static_cast<char>(std::tolower(letter));
  }
  return result;
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

std::vector<const Explanation*> explanations() {
  std::vector<const Explanation*> all;
  for (const auto theme :
       {words_of_the_record(), words_of_the_stand(), words_of_days(), words_of_models(),
        words_of_comparison(), words_of_tests(), words_of_decisions()})
    for (const auto& entry : theme) all.push_back(&entry);
  std::sort(all.begin(), all.end(),
            [](const Explanation* a, const Explanation* b) { return a->word < b->word; });
  return all;
}

const Explanation* explain(std::string_view word) {
  const std::string wanted = plain(word);
  const Explanation* by_other_name = nullptr;
  for (const auto* entry : explanations()) {
    if (plain(entry->word) == wanted) return entry;
    for (const auto& name : names(*entry))
      if (plain(name) == wanted) by_other_name = entry;
  }
  return by_other_name;
}

std::vector<std::string> explained_words() {
  std::vector<std::string> list;
  for (const auto* entry : explanations())
    for (auto& name : names(*entry)) list.push_back(std::move(name));
  return list;
}

}  // namespace plumule::analysis
