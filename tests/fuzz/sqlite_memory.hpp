// Memory for SQLite by itself, for targets that open a whole logbook many times a second. SQLite
// asks for a small piece of memory a thousand times a logbook, and the address sanitizer takes most
// of a run to keep the books of each. These pieces are watched all the same: what lies behind the
// bytes that were asked for, and what was given back, is poisoned.
#pragma once

namespace plumule::tests {

// Before the first logbook is opened.
void give_sqlite_its_own_memory();

}  // namespace plumule::tests
