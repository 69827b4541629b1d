// The order is drawn because a comparison rests on it: trays in a fixed order along a bench share
// its warm end. Shuffled by Fisher and Yates' method, from the last place down.
#include "bench/layout.hpp"

#include <algorithm>
#include <cctype>
#include <optional>
#include <random>

namespace plumule::bench {
namespace {

// The number in a label that is `prefix` and digits only.
std::optional<std::int64_t> number_after(const std::string& prefix, const std::string& label) {
  if (label.size() <= prefix.size() || label.size() > prefix.size() + 9) return {};
  for (std::size_t i = 0; i < prefix.size(); ++i)
    if (std::tolower(static_cast<unsigned char>(label[i])) !=
        std::tolower(static_cast<unsigned char>(prefix[i])))
      return {};
  const std::string digits = label.substr(prefix.size());
  if (digits.find_first_not_of("0123456789") != std::string::npos) return {};
  return std::stoll(digits);  // nine digits at most
}

std::int64_t highest(const std::string& prefix, const std::vector<std::string>& taken) {
  std::int64_t most = 0;
  for (const std::string& label : taken)
    if (const auto number = number_after(prefix, label)) most = std::max(most, *number);
  return most;
}

// A, B, ... Z, AA, AB ...
std::string letters(std::size_t index) {
  std::string text(1, static_cast<char>('A' + index % 26));
  return index < 26 ? text : letters(index / 26 - 1) + text;
}

}  // namespace

std::vector<Place> lay_out(const Layout& layout, const std::vector<std::string>& taken) {
  std::mt19937_64 random(layout.draw);
  std::vector<Place> all;
  std::size_t letter = 0;
  std::int64_t running = layout.prefix.empty() ? 0 : highest(layout.prefix, taken);
  for (const std::string& block : layout.blocks) {
    std::vector<Place> places;
    for (int tray = 0; tray < layout.trays; ++tray)
      for (const std::string& lot : layout.lots)
        for (const std::string& treatment : layout.treatments)
          places.push_back({{}, lot, treatment, block});
    if (!layout.in_order)
      for (std::size_t i = places.size(); i > 1; --i)
        std::swap(places[i - 1], places[random() % i]);
    std::string prefix = layout.prefix;
    if (prefix.empty()) {
      while (highest(letters(letter), taken) > 0) ++letter;
      prefix = letters(letter++);
      running = 0;
    }
    for (Place& place : places) place.label = prefix + std::to_string(++running);
    all.insert(all.end(), places.begin(), places.end());
  }
  return all;
}

std::vector<std::string> letters_passed_over(const std::vector<Place>& places) {
  const auto letters_of = [](const Place& place) {
    return place.label.substr(0, place.label.find_last_not_of("0123456789") + 1);
  };
  std::vector<std::string> passed;
  std::size_t index = 0;
  while (letters(index) != letters_of(places.front())) ++index;
  for (const Place& place : places) {  // blocks come in the order of their letters
    if (letters_of(place) == letters(index)) continue;
    while (letters_of(place) != letters(++index)) passed.push_back(letters(index));
  }
  return passed;
}

}  // namespace plumule::bench
