// Minding the file: checking it whole, and copying it while others write.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"

namespace plumule::logbook {

// What is wrong, in words, one line each; empty for a sound logbook. Verifies the file's structure,
// foreign keys, that tables, guards and views are those of the schema, every rule of the record
// over every course (derived totals recomputed), the ledger of changes and the journal.
std::vector<std::string> check(Logbook& logbook);

// A single-file copy, verified by opening and checking it; waits for no writer. Refuses a path
// where something stands. Throws Unusable where it cannot be written.
void backup(Logbook& logbook, const std::string& path);

}  // namespace plumule::logbook
