// The people who count, kept by name.
#pragma once

#include <optional>
#include <string>

#include "logbook/journal/entry.hpp"

namespace plumule::logbook {

// The row of that name, added where it is new; none for an empty name. Refused beyond 64 bytes.
std::optional<records::Id> person(Entry& entry, const std::string& name);

}  // namespace plumule::logbook
