// Ending: which sowings a name is about, and which looks may have been forgotten.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "records/sowing.hpp"

namespace plumule::bench {

// The sowing of that name, or of a trial all that are open. Refused where it is neither, or none is
// open.
std::vector<records::Sowing> sowings_to_end(logbook::Logbook& logbook, const std::string& name);

// Those of which no look of the day they ended on is written down: it would still be taken. None
// after an accident, which nothing is seen after.
std::vector<records::Sowing> not_looked_at(logbook::Logbook& logbook,
                                           const std::vector<records::Sowing>& sowings,
                                           const records::Ending& ending);

}  // namespace plumule::bench
