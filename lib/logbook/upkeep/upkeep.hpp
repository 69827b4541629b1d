// Minding the file: checking it whole, and copying it while others write.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"

namespace plumule::logbook {

struct Checked {
  std::vector<records::Refusal> wrong;  // a line each, with what may mend it; empty: it is sound
  // Every rule of file and record holds all the same: so may a file be that another program
  // changed, and `accept` takes it as it is.
  bool rules_hold = true;
};

// Verifies the seals of all pages in use, the file's structure, foreign keys, that tables, guards
// and views are those of the schema, every rule of the record over every course (derived totals
// recomputed), the ledger of changes, the journal, and that what each command wrote stands.
Checked look_over(Logbook& logbook);
inline std::vector<records::Refusal> check(Logbook& logbook) { return look_over(logbook).wrong; }

// A single-file copy, verified by opening and checking it; waits for no writer. Refuses a path
// where something stands; what a stopped command left beside that path is set aside, and returned.
// Throws Unusable where it cannot be written.
Leftovers backup(Logbook& logbook, const std::string& path);

// Rewrites the file without the slack that rows laid down in bulk leave in its pages (a tenth of
// it). Worth its time only after a large import; outside any entry. Where
// the file is busy or the disk full it is left as it was: nothing but slack is at stake.
void pack(Logbook& logbook);

}  // namespace plumule::logbook
