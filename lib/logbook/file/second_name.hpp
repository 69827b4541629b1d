// A file with a second name (a hard link). SQLite keeps what mends an unfinished write beside the
// name by which the file was written: under its other name nothing tells that it is unfinished.
#pragma once

#include <sys/types.h>

#include <string>

struct sqlite3;

namespace plumule::logbook {

// Of an open logbook whose file has so many names, more than one, and of which nothing was read
// yet: throws Unusable unless the file is known to be finished. It is where
//  - a journal beside this name will mend it,
//  - the ended journal beside this name tells that its transaction was the file's last, or the
//    file's mark that none has written to it since it was made,
//  - all its names lie in this folder, and none of them has an unfinished journal.
// Waits up to 5 seconds for who is writing by another name. The mark tells of a transaction as soon
// as it writes the first page, which a commit does first; one so large that SQLite writes some of
// it before shows by the length of the file.
void refuse_if_unfinished_elsewhere(sqlite3* database, const std::string& path, nlink_t names);

}  // namespace plumule::logbook
