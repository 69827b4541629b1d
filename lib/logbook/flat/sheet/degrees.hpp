// Soil temperatures in the cells of a sheet, whose column says the unit of plain figures. A column
// of Celsius in which somebody read a Fahrenheit thermometer looks like any other: a plain figure
// of 32 or more is taken for neither.
#pragma once

#include <string>
#include <string_view>

#include "logbook/flat/cells.hpp"
#include "records/temperature.hpp"

namespace plumule::logbook {

// From so many degrees Celsius on the unit must stand beside the figure.
inline constexpr double unit_needed_c = 32;

// 18.5, 18C or 64F; `value` in C. `fahrenheit_column` is named where the figure may belong there;
// `settled` where plain figures of a column of Celsius are known to be that.
Reason read_degrees(std::string_view cell, records::Degrees plain, bool settled,
                    std::string_view fahrenheit_column, double& value);

// Why two cells of a row that say the same temperature in C and in F (read to C) do not; empty
// where they agree as far as rounding goes.
Reason degrees_differ(double celsius, double of_fahrenheit, std::string_view celsius_column);

// A temperature in C as it is written, with its unit where that is needed.
std::string degrees_cell(double celsius);

}  // namespace plumule::logbook
