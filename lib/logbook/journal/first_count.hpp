// When counting began in a trial, by the journal: what is changed later is changed with counts in
// sight.
#pragma once

#include <optional>

#include "logbook/store/store.hpp"
#include "records/lot.hpp"

namespace plumule::logbook {

// The entry of the first count of any sowing that belongs to the trial or once did, also of a count
// that was corrected or taken out since; none where nothing was counted yet.
std::optional<records::Id> first_count(Store& store, records::Id trial);

}  // namespace plumule::logbook
