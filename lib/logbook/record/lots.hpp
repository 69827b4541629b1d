// Lots of seed: found, added, changed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/lot.hpp"

namespace plumule::logbook {

// Throws records::Refused where the code is taken, a parent is unknown, or a field cannot be.
records::Id add_lot(Entry& entry, const records::Lot& lot);
// Every field of an existing lot as given; the row as it was stays in the journal.
void change_lot(Entry& entry, const records::Lot& lot);

std::optional<records::Lot> find_lot(Logbook& logbook, const std::string& code);
// The lot of that code, or Refused with the nearest ones.
records::Lot lot_named(Logbook& logbook, const std::string& code);
std::vector<records::Lot> lots(Logbook& logbook);

}  // namespace plumule::logbook
