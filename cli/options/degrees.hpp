// Temperatures as they are typed: 18C, 64F, and plain numbers, which are of the logbook's unit.
// Where none was ever said a plain number of 32 or more may be either, and is asked about: 40 F
// kept as 40 C would make cold soil warm, and speak of dead seed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/options/arguments.hpp"
#include "logbook/journal/entry.hpp"
#include "records/temperature.hpp"

namespace plumule::cli {

struct Bounds {  // C
  double lowest = 0;
  double highest = 0;
};

// What records::check takes of soil and of places.
inline constexpr Bounds soil_bounds{-60, 90};

class DegreesTyped {
 public:
  // Reads the unit of the entry's logbook.
  explicit DegreesTyped(logbook::Entry& entry);

  // What stands after `before` ("A1=", "--water "), in C; `low` and `high` are one and the same
  // where there are no "..". Refused where it is no temperature or lies outside.
  records::TypedRange read(const std::string& before, const std::string& text, Bounds bounds);
  // Of an option; none where it was not typed.
  std::optional<double> read(const Arguments& arguments, std::string_view option, Bounds bounds);

  // To be called once all were read: refuses those that may be Celsius or Fahrenheit, with the
  // command as it is typed in either.
  void settle() const;

 private:
  struct Either {
    std::string before;
    std::string text;
    records::TypedRange celsius;
    records::TypedRange fahrenheit;  // read as such, in C
    bool celsius_can_be = true;
  };
  std::string command_with(const char* unit) const;

  std::optional<records::Degrees> unit_;
  std::string command_;
  std::vector<Either> either_;
};

// The unit in which the answer shows temperatures: the logbook's, in JSON always Celsius.
records::Degrees shown_unit(const Arguments& arguments, logbook::Logbook& logbook);

}  // namespace plumule::cli
