// Normal forms of names, and the distance between two.
#include "crops/normal_name.hpp"

#include <algorithm>

namespace plumule::crops {
namespace {

bool ends_in(std::string_view word, std::string_view end) {
  return word.size() > end.size() && word.substr(word.size() - end.size()) == end;
}

// English plurals as they come in names of crops; "asparagus", "cress" and "anis" stay.
std::string singular(std::string word) {
  if (word.size() <= 3) return word;
  if (ends_in(word, "ies") && word.size() > 4) {
    word.replace(word.size() - 3, 3, "y");
  } else if (ends_in(word, "oes") || ends_in(word, "sses") || ends_in(word, "xes") ||
             ends_in(word, "shes") || ends_in(word, "ches")) {
    word.resize(word.size() - 2);
  } else if (ends_in(word, "s") && !ends_in(word, "ss") && !ends_in(word, "us") &&
             !ends_in(word, "is")) {
    word.pop_back();
  }
  return word;
}

bool says_nothing(std::string_view word) {
  return word == "seed" || word == "seeds" || word == "the" || word == "a" || word == "of" ||
         word == "and";
}

}  // namespace

std::vector<std::string> name_words(std::string_view name) {
  std::vector<std::string> found;
  found.reserve(4);
  std::string word;
  const auto close = [&] {
    if (!word.empty() && !says_nothing(word)) found.push_back(singular(word));
    word.clear();
  };
  for (const char c : name) {
    if (c == '\'') continue;
    const auto byte = static_cast<unsigned char>(c);
    if (c >= 'A' && c <= 'Z') {
      word += static_cast<char>(c - 'A' + 'a');
    } else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || byte >= 0x80) {
      word += c;
    } else {
      close();
    }
  }
  close();
  return found;
}

std::string sorted_key(std::vector<std::string> name_words) {
  std::sort(name_words.begin(), name_words.end());
  std::string key;
  for (const std::string& word : name_words) {
    if (!key.empty()) key += ' ';
    key += word;
  }
  return key;
}

std::string joined_key(const std::vector<std::string>& name_words) {
  std::string key;
  for (const std::string& word : name_words) key += word;
  return key;
}

std::size_t edit_distance(std::string_view one, std::string_view other) {
  // Three rows of the table of distances between beginnings: two back, the last, this one.
  std::vector<std::size_t> before(other.size() + 1);
  std::vector<std::size_t> last(other.size() + 1);
  std::vector<std::size_t> now(other.size() + 1);
  for (std::size_t j = 0; j <= other.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= one.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= other.size(); ++j) {
      const std::size_t change = last[j - 1] + (one[i - 1] == other[j - 1] ? 0U : 1U);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, change});
      if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
        now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[other.size()];
}

}  // namespace plumule::crops
