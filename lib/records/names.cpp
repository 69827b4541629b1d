#include "records/names.hpp"

#include <algorithm>
#include <array>
#include <numeric>
#include <utility>

namespace plumule::records {

namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// How often each letter is in a text, case-blind.
using Letters = std::array<int, 256>;
Letters letters_of(const std::string& text) {
  Letters letters{};
  for (const char letter : text) ++letters[static_cast<unsigned char>(lower(letter))];
  return letters;
}

// Letters that the name has and the typed text lacks, or the other way round, whichever are more:
// there are so many steps at the least.
std::size_t letters_apart(const std::string& name, std::size_t typed, Letters left) {
  std::size_t lacking = 0;
  for (const char letter : name) lacking += left[static_cast<unsigned char>(lower(letter))]-- <= 0;
  return std::max(lacking, typed + lacking - name.size());
}

// Steps of one letter (added, missing, changed, two neighbours swapped) from one text to the other:
// the restricted Damerau-Levenshtein distance, case-blind.
std::size_t steps_between(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before_last(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> now(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
          lower(a[i - 2]) == lower(b[j - 1]))
        now[j] = std::min(now[j], before_last[j - 2] + 1);
    }
    std::swap(before_last, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

}  // namespace

std::string listed(const std::vector<std::string>& names, std::string_view last) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " " + std::string(last) + " " : ", ";
    text += names[i];
  }
  return text;
}

std::string listed_some(const std::vector<std::string>& names, std::size_t most) {
  if (names.size() <= most) return listed(names);
  std::string text;
  for (std::size_t i = 0; i < most; ++i) text += (i == 0 ? "" : ", ") + names[i];
  return text + " and " + std::to_string(names.size() - most) + " more";
}

std::vector<std::string> nearest(const std::string& typed, const std::vector<std::string>& known) {
  // Half of it may be wrong: beyond that it is another word.
  const std::size_t most = std::max<std::size_t>(1, typed.size() / 2);
  const Letters letters = letters_of(typed);
  std::vector<std::pair<std::size_t, std::string>> near;
  for (const std::string& name : known) {
    const std::size_t longer = std::max(name.size(), typed.size());
    if (longer - std::min(name.size(), typed.size()) > most) continue;
    if (letters_apart(name, typed.size(), letters) > most) continue;
    const std::size_t steps = steps_between(typed, name);
    if (steps <= most) near.emplace_back(steps, name);
  }
  std::stable_sort(near.begin(), near.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> names;
  for (std::size_t i = 0; i < near.size() && i < 3; ++i) names.push_back(near[i].second);
  return names;
}

}  // namespace plumule::records
