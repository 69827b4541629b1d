#include "records/label.hpp"

#include <algorithm>

namespace plumule::records {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// The run of digits at the front, without leading zeros, and the length that it takes up.
std::string_view number_at(std::string_view text, std::size_t from, std::size_t& end) {
  end = from;
  while (end < text.size() && is_digit(text[end])) ++end;
  std::size_t start = from;
  while (start + 1 < end && text[start] == '0') ++start;
  return text.substr(start, end - start);
}

}  // namespace

bool is_label(std::string_view text) {
  if (text.empty() || text.size() > 64 || !(is_letter(text[0]) || is_digit(text[0]))) return false;
  return std::all_of(text.begin(), text.end(), [](char c) {
    return is_letter(c) || is_digit(c) || c == '.' || c == '_' || c == '-';
  });
}

std::string label_trouble(std::string_view text) {
  if (text.empty()) return "a label is missing";
  if (text.size() > 64)
    return '"' + std::string(text.substr(0, 20)) +
           "...\" is too long for a label: 64 characters at most";
  return '"' + std::string(text) +
         "\" is no label: use letters, digits, '.', '_' and '-', and begin with a letter or digit";
}

bool label_before(std::string_view a, std::string_view b) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      std::size_t end_a = i;
      std::size_t end_b = j;
      const std::string_view x = number_at(a, i, end_a);
      const std::string_view y = number_at(b, j, end_b);
      if (x.size() != y.size()) return x.size() < y.size();
      if (x != y) return x < y;
      i = end_a;
      j = end_b;
    } else {
      const char x = lower(a[i++]);
      const char y = lower(b[j++]);
      if (x != y) return x < y;
    }
  }
  if (i < a.size() || j < b.size()) return i == a.size();
  // Equal by value, such as A01 and A1: by the letters, so that the order is whole.
  return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end(),
                                      [](char x, char y) { return lower(x) < lower(y); });
}

bool same_label(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

}  // namespace plumule::records
