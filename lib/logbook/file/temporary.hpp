// The temporary files that SQLite sorts and rebuilds in lie in another folder than the logbook,
// often on another disk: where one of them fails, the fault is not the logbook's.
#pragma once

#include <sqlite3.h>

#include <optional>
#include <string>

namespace plumule::logbook {

// How much room `open_temporary` needs in front of the file of the layer below.
int temporary_room();

// SQLite's codes. `file` has room for both; `below` opens the file itself.
int open_temporary(sqlite3_vfs* below, sqlite3_file* file, int flags, int* out);

// The folder in which this thread could not write a temporary file since it was last asked; empty
// where there was no folder for them at all.
std::optional<std::string> failed_temporary_folder();

}  // namespace plumule::logbook
