// What growers' spreadsheets call the columns of the flat log: for "did you mean".
#pragma once

#include <string_view>

namespace plumule::logbook {

// The column of the flat log that a word such as "date" or "planted" is usually meant for; empty
// where none is known. `name` as columns are compared: lower case, '_' for blanks and hyphens.
std::string_view column_meant_by(std::string_view name);

}  // namespace plumule::logbook
