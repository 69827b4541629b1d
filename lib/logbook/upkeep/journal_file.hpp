// How SQLite opens the rollback journal that stays beside a logbook.
#pragma once

namespace plumule::logbook {

// The name of SQLite's own file system layer, but for one step: SQLite syncs the folder at every
// commit whose journal it opens as if it might have to make the file. Here the folder is synced
// once, when the journal is made and before anything is written to it; one that holds anything is
// known to be found again after a power cut, and is opened as it stands. That leaves four syncs of
// five to a commit: the journal, its head, the logbook, and the head that ends it.
const char* with_lasting_journal();

}  // namespace plumule::logbook
