// What became of a trial's sowings after its first count: with the counts in sight, anybody could
// keep those that look good.
#pragma once

#include <optional>

#include "logbook/logbook.hpp"
#include "records/trial.hpp"

namespace plumule::logbook {

// Read from the ledger of changes: sowings that left the trial or were put into it after its first
// count, and those whose treatment, block, seed lot, number sown or jar is another than it was then
// (a jar that was only added does not count). None where all stand as they stood, changed and
// changed back included, and where nothing was counted yet.
std::optional<records::SowingsChanged> sowings_changed(Logbook& logbook,
                                                       const records::Trial& trial);

}  // namespace plumule::logbook
