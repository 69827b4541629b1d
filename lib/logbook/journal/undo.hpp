// Taking the last command back.
#pragma once

#include <string>

#include "logbook/journal/journal.hpp"

namespace plumule::logbook {

// Takes the last command that still stands back, whole: its rows go, what it changed is as it was,
// derived totals follow. Refused where nothing is left to take back, and with `of` where the
// command was another's than that person's.
JournalLine undo(Logbook& logbook, const std::string& by, const std::string& of = {});

}  // namespace plumule::logbook
