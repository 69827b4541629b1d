// What is said once for the whole logbook: the unit of plain temperatures.
#pragma once

#include <optional>

#include "logbook/journal/entry.hpp"
#include "logbook/logbook.hpp"
#include "records/temperature.hpp"

namespace plumule::logbook {

// The unit of temperatures that are typed without one; none where it was never said. Celsius is
// what is kept, whatever it is.
std::optional<records::Degrees> temperature_unit(Logbook& logbook);
void set_temperature_unit(Entry& entry, records::Degrees unit);

// The unit in which temperatures are shown: Celsius where none was said.
records::Degrees shown_unit(Logbook& logbook);

}  // namespace plumule::logbook
