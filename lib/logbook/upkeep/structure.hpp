// What SQLite's own check of a file's structure says, told apart from what kept it from looking.
#pragma once

#include <string>

namespace plumule::logbook {

class Store;

// `said`: a row of the check. Throws Hindered where it tells of a page that the disk did not give,
// std::bad_alloc where memory was short; returns where it is "ok" or damage.
void refuse_if_hindered(Store& store, const std::string& said);

// Whether the file's structure holds. Throws as above, and Unusable where it cannot be opened.
bool is_sound(Store& store);

}  // namespace plumule::logbook
