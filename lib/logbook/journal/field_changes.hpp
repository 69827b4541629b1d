// What was changed in the fields of a sowing, a lot, a trial or a treatment since it was entered:
// the ledger of changes in a grower's words.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "records/lot.hpp"
#include "records/note.hpp"
#include "records/temperature.hpp"

namespace plumule::logbook {

struct FieldChange {
  std::string at;  // UTC, YYYY-MM-DDTHH:MM:SSZ
  std::string by;
  std::string field;   // "number sown", "place", "last day", "ending" ...
  std::string before;  // as a grower writes it; empty where nothing was there
  std::string after;
  records::Id entry = 0;  // its line of the journal
};

// Oldest first; what was taken back is left out. Notes, counts and stock have ledgers of their own.
std::vector<FieldChange> field_changes(Logbook& logbook, records::About about, records::Id id,
                                       records::Degrees shown_in = records::Degrees::celsius);

}  // namespace plumule::logbook
