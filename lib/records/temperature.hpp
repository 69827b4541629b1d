// A temperature as it is typed and shown, in Celsius or Fahrenheit. Celsius is what is kept.
// The scales: 0 C is 32 F, 100 C is 212 F (definition of the Fahrenheit scale).
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace plumule::records {

enum class Degrees { celsius, fahrenheit };

struct TypedTemperature {
  double celsius = 0;
  bool unit_given = false;  // else it is a plain number, read in the unit that was asked for
};

// 18.5, 18C, 64 F, 64 °f, 18 degrees Celsius; a plain number, or one with no more than a degree
// sign, is of `plain`. Of Fahrenheit the hundredth of a degree Celsius is taken, so that a tenth
// of a degree Fahrenheit comes back. None where the text is anything else.
std::optional<TypedTemperature> parse_temperature(std::string_view text,
                                                  Degrees plain = Degrees::celsius);

// The lowest and the highest: 8..24, 46..75F, 46F..75F. A unit at one end is of both; with none
// both are plain. The order of the two is not looked at.
struct TypedRange {
  double low = 0;   // C
  double high = 0;  // C
  bool unit_given = false;
};
std::optional<TypedRange> parse_temperatures(std::string_view text,
                                             Degrees plain = Degrees::celsius);

double celsius_of(double fahrenheit);  // to the hundredth of a degree
double fahrenheit_of(double celsius);  // to the tenth of a degree

// "18.5 C" as it is kept; in Fahrenheit "64 F", to the tenth.
std::string shown_temperature(double celsius, Degrees in = Degrees::celsius);
// "8 to 24 C".
std::string shown_temperatures(double low, double high, Degrees in = Degrees::celsius);

}  // namespace plumule::records
