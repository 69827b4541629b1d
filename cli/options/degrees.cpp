#include "cli/options/degrees.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/showing/wording.hpp"
#include "logbook/record/settings.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

using records::Degrees;
using records::TypedRange;

constexpr double freezing_f = 32;  // below it a plain number is hardly ever meant in Fahrenheit

std::optional<TypedRange> read_either(const std::string& text, Degrees plain) {
  if (const auto range = records::parse_temperatures(text, plain)) return range;
  const auto one = records::parse_temperature(text, plain);
  if (!one) return std::nullopt;
  return TypedRange{one->celsius, one->celsius, one->unit_given};
}

bool can_be(const TypedRange& range, Bounds bounds) {
  return std::min(range.low, range.high) >= bounds.lowest &&
         std::max(range.low, range.high) <= bounds.highest;
}

// To the tenth of a degree, so that 40 F is 4.4 C.
std::string rough(const TypedRange& range) {
  const auto tenth = [](double value) { return std::round(value * 10) / 10; };
  return range.low == range.high ? records::shown_temperature(tenth(range.low))
                                 : records::shown_temperatures(tenth(range.low), tenth(range.high));
}

// The place in the command where it was typed; a name in quotes stands within them.
std::size_t place_of(const std::string& command, const std::string& typed) {
  for (std::size_t at = command.rfind(typed); at != std::string::npos && at > 0;
       at = command.rfind(typed, at - 1)) {
    const std::size_t end = at + typed.size();
    const bool begins = std::string_view(" '").find(command[at - 1]) != std::string::npos;
    if (begins && (end == command.size() || command[end] == ' ' || command[end] == '\'')) return at;
  }
  return std::string::npos;
}

}  // namespace

DegreesTyped::DegreesTyped(logbook::Entry& entry)
    : unit_(logbook::temperature_unit(entry.logbook())), command_(entry.command()) {}

TypedRange DegreesTyped::read(const std::string& before, const std::string& text, Bounds bounds) {
  const Degrees plain = unit_.value_or(Degrees::celsius);
  const auto range = read_either(text, plain);
  if (!range)
    throw records::Refused(fmt::format(
        "{0}{1}: \"{1}\" is no temperature. Write 18.5, 18C or 64F; of the lowest and the highest "
        "8..24, 8..24C or 46..75F.",
        before, text));
  if (!range->unit_given && !unit_) {
    const TypedRange fahrenheit = *read_either(text, Degrees::fahrenheit);
    if (std::max(range->low, range->high) >= freezing_f && can_be(fahrenheit, bounds)) {
      either_.push_back({before, text, *range, fahrenheit, can_be(*range, bounds)});
      return *range;
    }
  }
  if (range->low > range->high)
    throw records::Refused(
        fmt::format("{}{}: the lowest lies above the highest. Swapped?", before, text));
  if (!can_be(*range, bounds)) {
    const Degrees in = plain;
    throw records::Refused(fmt::format(
        "{}{}: {} cannot be; from {} is possible.", before, text,
        range->low == range->high ? records::shown_temperature(range->low, in)
                                  : records::shown_temperatures(range->low, range->high, in),
        records::shown_temperatures(bounds.lowest, bounds.highest, in)));
  }
  return *range;
}

std::optional<double> DegreesTyped::read(const Arguments& arguments, std::string_view option,
                                         Bounds bounds) {
  const auto text = arguments.text(option);
  if (!text) return std::nullopt;
  return read("--" + std::string(option) + ' ', *text, bounds).low;
}

std::string DegreesTyped::command_with(const char* unit) const {
  std::string command = command_;
  for (const Either& one : either_) {
    // An option's value may be typed after a space or after "=".
    std::string typed = one.before + one.text;
    std::size_t at = place_of(command, typed);
    if (at == std::string::npos && one.before.ends_with(' ')) {
      typed[one.before.size() - 1] = '=';
      at = place_of(command, typed);
    }
    if (at == std::string::npos) return one.before + one.text + unit;
    command.insert(at + typed.size(), unit);
    if (one.before == "=")
      command.erase(at, 1);  // a word of its own, which zsh would read as a path
  }
  return command;
}

void DegreesTyped::settle() const {
  if (either_.empty()) return;
  std::vector<std::string> typed, fahrenheit, too_hot;
  for (const Either& one : either_) {
    typed.push_back(one.before + one.text);
    fahrenheit.push_back(rough(one.fahrenheit));
    if (!one.celsius_can_be) too_hot.push_back(typed.back());
  }
  std::string sentence = too_hot.empty() ? fmt::format("{}: Celsius or Fahrenheit?", listed(typed))
                                         : fmt::format("{} cannot be Celsius.", listed(too_hot));
  sentence +=
      fmt::format(" In Fahrenheit (that is {}): {}.", listed(fahrenheit), command_with("F"));
  if (too_hot.empty()) sentence += fmt::format(" In Celsius: {}.", command_with("C"));
  sentence +=
      " To say it once for all plain numbers: plumule temp --unit F, or plumule temp --unit C.";
  throw records::Refused(sentence);
}

records::Degrees shown_unit(const Arguments& arguments, logbook::Logbook& logbook) {
  return arguments.flag("json") ? Degrees::celsius : logbook::shown_unit(logbook);
}

}  // namespace plumule::cli
