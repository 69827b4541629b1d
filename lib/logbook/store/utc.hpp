// The clock by which the journal is kept.
#pragma once

#include <string>

namespace plumule::logbook {

std::string utc_now();  // YYYY-MM-DDTHH:MM:SSZ

}  // namespace plumule::logbook
