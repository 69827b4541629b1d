// The order is drawn because a comparison rests on it: trays in a fixed order along a bench share
// its warm end. Shuffled by Fisher and Yates' method, from the last place down.
#include "cli/layout.hpp"

#include <algorithm>
#include <optional>
#include <random>

#include "cli/options/arguments.hpp"

namespace plumule::cli {
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
  return read_whole(digits);
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

std::vector<Place> lay_out(const Plan& plan, const std::vector<std::string>& taken) {
  std::mt19937_64 random(plan.draw);
  std::vector<Place> all;
  std::size_t letter = 0;
  std::int64_t running = plan.prefix.empty() ? 0 : highest(plan.prefix, taken);
  for (const std::string& block : plan.blocks) {
    std::vector<Place> places;
    for (int tray = 0; tray < plan.trays; ++tray)
      for (const std::string& lot : plan.lots)
        for (const std::string& treatment : plan.treatments)
          places.push_back({{}, lot, treatment, block});
    if (!plan.in_order)
      for (std::size_t i = places.size(); i > 1; --i)
        std::swap(places[i - 1], places[random() % i]);
    std::string prefix = plan.prefix;
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

}  // namespace plumule::cli
