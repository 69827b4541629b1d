#include "records/temperature.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "records/number_check.hpp"

namespace plumule::records {
namespace {

// A negative zero would be shown with its sign.
double rounded(double value, double parts) {
  const double nearest = std::round(value * parts) / parts;
  return nearest == 0 ? 0 : nearest;
}

std::string_view without_spaces(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

bool take(std::string_view& text, std::string_view front) {
  if (text.substr(0, front.size()) != front) return false;
  text.remove_prefix(front.size());
  return true;
}

// The degree sign, and two letters that look like it and stand nearer on some keyboards.
constexpr std::array<std::string_view, 3> degree_signs = {"\u00B0", "\u00BA", "\u02DA"};

struct Unit {
  std::string_view word;
  Degrees degrees;
};
constexpr std::array units = {
    Unit{"c", Degrees::celsius},          Unit{"f", Degrees::fahrenheit},
    Unit{"celsius", Degrees::celsius},    Unit{"fahrenheit", Degrees::fahrenheit},
    Unit{"centigrade", Degrees::celsius},
};
// One letter that is sign and unit together.
constexpr std::array signs_with_unit = {Unit{"\u2103", Degrees::celsius},
                                        Unit{"\u2109", Degrees::fahrenheit}};

struct Parts {
  double number = 0;
  std::optional<Degrees> unit;

  TypedTemperature in(Degrees degrees) const {
    const double celsius = degrees == Degrees::fahrenheit ? celsius_of(number) : number;
    return {celsius, unit.has_value()};
  }
};

// False where what follows the number is no unit; none of it at all is one.
bool read_unit(std::string_view text, std::optional<Degrees>& unit) {
  for (const Unit& one : signs_with_unit)
    if (text == one.word) {
      unit = one.degrees;
      return true;
    }
  for (const std::string_view sign : degree_signs)
    if (take(text, sign)) break;
  std::string word(without_spaces(text));
  for (char& c : word)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  for (const std::string_view degrees : {"degrees", "degree", "deg"})
    if (word.rfind(degrees, 0) == 0) {
      word = without_spaces(std::string_view(word).substr(degrees.size()));
      break;
    }
  if (word.empty()) return true;
  for (const Unit& one : units)
    if (word == one.word) {
      unit = one.degrees;
      return true;
    }
  return false;
}

std::optional<Parts> parts_of(std::string_view text) {
  text = without_spaces(text);
  if (take(text, "+") && text.substr(0, 1) == "-") return std::nullopt;
  Parts parts;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, parts.number);
  if (error != std::errc() || !std::isfinite(parts.number)) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(stop - text.data()));
  if (!read_unit(without_spaces(text), parts.unit)) return std::nullopt;
  return parts;
}

}  // namespace

std::optional<TypedTemperature> parse_temperature(std::string_view text, Degrees plain) {
  const auto parts = parts_of(text);
  if (!parts) return std::nullopt;
  return parts->in(parts->unit.value_or(plain));
}

std::optional<TypedRange> parse_temperatures(std::string_view text, Degrees plain) {
  const std::size_t dots = text.find("..");
  // "8...24" is a slip of the hand, not a highest of 0.24.
  if (dots == std::string_view::npos || text.substr(dots + 2, 1) == ".") return std::nullopt;
  const auto low = parts_of(text.substr(0, dots));
  const auto high = parts_of(text.substr(dots + 2));
  if (!low || !high) return std::nullopt;
  TypedRange range;
  range.low = low->in(low->unit.value_or(high->unit.value_or(plain))).celsius;
  range.high = high->in(high->unit.value_or(low->unit.value_or(plain))).celsius;
  range.unit_given = low->unit || high->unit;
  return range;
}

double celsius_of(double fahrenheit) { return rounded((fahrenheit - 32) / 1.8, 100); }
double fahrenheit_of(double celsius) { return rounded(32 + celsius * 1.8, 10); }

std::string shown_temperature(double celsius, Degrees in) {
  return in == Degrees::celsius ? shown(celsius) + " C" : shown(fahrenheit_of(celsius)) + " F";
}

std::string shown_temperatures(double low, double high, Degrees in) {
  const std::string from = shown_temperature(low, in);
  return from.substr(0, from.size() - 2) + " to " + shown_temperature(high, in);
}

}  // namespace plumule::records
