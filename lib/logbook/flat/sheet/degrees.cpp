#include "logbook/flat/sheet/degrees.hpp"

#include <cmath>

#include "records/assessment.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

// Of whole degrees of the one scale the other is at most half a degree off.
constexpr double rounding_c = 0.5;

bool can_be(double celsius) {
  try {
    records::Temperature one;
    one.sowing = 1;
    one.spot_c = celsius;
    records::check(one);
    return true;
  } catch (const records::Refused&) {
    return false;
  }
}

}  // namespace

Reason read_degrees(std::string_view cell, records::Degrees plain, bool settled,
                    std::string_view fahrenheit_column, double& value) {
  using records::Degrees;
  Reason reason = read_cell(cell, value);
  if (!reason.empty()) {
    const auto typed = records::parse_temperature(cell, plain);
    if (!typed)
      return reason.ends_with("is not a number") ? reason + "; write 18.5, 18C or 64F" : reason;
    value = typed->celsius;
    if (typed->unit_given) return {};
  } else if (plain == Degrees::fahrenheit) {
    value = records::celsius_of(value);
  }
  const double of_fahrenheit = records::celsius_of(value);
  if (plain == Degrees::fahrenheit || settled || value < unit_needed_c || !can_be(of_fahrenheit))
    return {};
  const std::string figure = records::shown(value);
  return figure + " may be Fahrenheit (" + records::shown_temperature(of_fahrenheit) +
         "): " + "then write " + figure + "F, or name the column " +
         std::string(fahrenheit_column) +
         (can_be(value) ? "; of Celsius write " + figure + "C" : std::string());
}

Reason degrees_differ(double celsius, double of_fahrenheit, std::string_view celsius_column) {
  if (!(std::abs(celsius - of_fahrenheit) > rounding_c)) return {};
  return "the row has " + records::shown_temperature(celsius) + " in " +
         std::string(celsius_column) + ", and here " + records::shown_temperature(of_fahrenheit) +
         "; one of them is wrong";
}

std::string degrees_cell(double celsius) {
  return to_cell(celsius) + (celsius >= unit_needed_c ? "C" : "");
}

}  // namespace plumule::logbook
