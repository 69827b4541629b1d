// The last day of a trial as it was planned before anything was seen of it.
#pragma once

#include <optional>

#include "logbook/logbook.hpp"
#include "records/trial.hpp"

namespace plumule::logbook {

// Read from the ledger of changes; none where the plan still stands as it was when the trial's
// first count was entered, or where nothing was counted yet.
std::optional<records::LastDayMoved> last_day_moved(Logbook& logbook, const records::Trial& trial);

}  // namespace plumule::logbook
