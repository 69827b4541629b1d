// Minding the file: checking it whole, and copying it while others write.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"

namespace plumule::logbook {

// What is wrong, a line each, with what may mend it; empty for a sound logbook. Verifies the file's
// structure, foreign keys, that tables, guards and views are those of the schema, every rule of the
// record over every course (derived totals recomputed), the ledger of changes and the journal.
std::vector<records::Refusal> check(Logbook& logbook);

// A single-file copy, verified by opening and checking it; waits for no writer. Refuses a path
// where something stands; what a stopped command left beside that path is set aside, and returned.
// Throws Unusable where it cannot be written.
Leftovers backup(Logbook& logbook, const std::string& path);

// Rewrites the file without the slack that rows laid down in bulk leave in its pages (a tenth of
// it). Worth its time only after a large import; outside any entry. Where
// the file is busy or the disk full it is left as it was: nothing but slack is at stake.
void pack(Logbook& logbook);

}  // namespace plumule::logbook
