#include "records/assessment.hpp"

#include <cmath>

#include "records/number_check.hpp"
#include "records/refused.hpp"
#include "records/sowing.hpp"

namespace plumule::records {
namespace {

void check_reading(const char* what, const std::optional<double>& celsius) {
  if (!celsius) return;
  if (std::isnan(*celsius)) throw Refused(std::string("The ") + what + " is not a number.");
  if (*celsius >= -60 && *celsius <= 90) return;
  if (*celsius > 90 && *celsius <= 212)
    throw Refused(std::string("The ") + what + " of " + shown(*celsius) +
                  " looks like Fahrenheit; in Celsius it is " +
                  shown(std::round((*celsius - 32) / 1.8 * 10) / 10) + '.');
  throw Refused(std::string("A ") + what + " of " + shown(*celsius) +
                " C cannot be; it lies between -60 and 90.");
}

}  // namespace

std::string in_words(const Temperature& temperature, Degrees shown_in) {
  std::string words;
  const auto add = [&](const std::string& part) { words += (words.empty() ? "" : ", ") + part; };
  if (temperature.spot_c) add(shown_temperature(*temperature.spot_c, shown_in));
  if (temperature.min_c && temperature.max_c)
    add(shown_temperatures(*temperature.min_c, *temperature.max_c, shown_in));
  else if (temperature.min_c)
    add("lowest " + shown_temperature(*temperature.min_c, shown_in));
  else if (temperature.max_c)
    add("highest " + shown_temperature(*temperature.max_c, shown_in));
  return words;
}

void check(const Assessment& assessment) {
  if (assessment.units < 1 || assessment.units > most_units)
    throw Refused("An assessment is of 1 unit or more (and at most 1,000,000,000), not " +
                  std::to_string(assessment.units) + '.');
}

void check(const Temperature& temperature) {
  if (!temperature.spot_c && !temperature.min_c && !temperature.max_c)
    throw Refused("A temperature is missing: give one reading, or a minimum and a maximum.");
  check_reading("temperature", temperature.spot_c);
  check_reading("minimum", temperature.min_c);
  check_reading("maximum", temperature.max_c);
  if (temperature.min_c && temperature.max_c && *temperature.min_c > *temperature.max_c)
    throw Refused("The minimum of " + shown(*temperature.min_c) + " C lies above the maximum of " +
                  shown(*temperature.max_c) + " C. Swapped?");
  if (temperature.sowing.has_value() != temperature.place.empty())
    throw Refused("A temperature is of a sowing or of a place: name one of them.");
}

}  // namespace plumule::records
