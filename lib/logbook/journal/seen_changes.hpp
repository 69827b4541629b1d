// What was corrected of a sowing's assessments, temperatures and notes: the ledger of changes in a
// grower's words.
#pragma once

#include <vector>

#include "logbook/journal/field_changes.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

// Oldest first; what was taken back is left out. `field` names the kind and the day it was of;
// `after` is empty where it was taken out. Readings of a place are those of where the sowing
// stands.
std::vector<FieldChange> seen_changes(Logbook& logbook, const records::Sowing& sowing,
                                      records::Degrees shown_in = records::Degrees::celsius);

}  // namespace plumule::logbook
