#include "analysis/natural_order.hpp"

#include <cctype>

namespace plumule::analysis {

namespace {

bool digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

}  // namespace

bool natural_less(std::string_view a, std::string_view b) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (digit(a[i]) && digit(b[j])) {
      const auto run = [](std::string_view text, std::size_t& at) {
        while (at < text.size() && text[at] == '0') ++at;
        const std::size_t from = at;
        while (at < text.size() && digit(text[at])) ++at;
        return text.substr(from, at - from);
      };
      const auto left = run(a, i);
      const auto right = run(b, j);
      if (left.size() != right.size()) return left.size() < right.size();
      if (left != right) return left < right;
    } else {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i;
      ++j;
    }
  }
  if ((a.size() - i == 0) != (b.size() - j == 0)) return i == a.size();
  return a < b;  // the same but for leading noughts
}

}  // namespace plumule::analysis
