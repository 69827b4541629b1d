// Where a sowing went, and pictures of it.
#pragma once

#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/note.hpp"

namespace plumule::logbook {

records::Id move_sowing(Entry& entry, records::Id sowing, const records::Move& move);
std::vector<records::Move> moves_of(Logbook& logbook, records::Id sowing);

records::Id add_photograph(Entry& entry, records::Id sowing, const records::Photograph& photo);
std::vector<records::Photograph> photographs_of(Logbook& logbook, records::Id sowing);

}  // namespace plumule::logbook
