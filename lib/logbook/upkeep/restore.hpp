// Putting a backup in the logbook's place.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "logbook/file/leftover.hpp"

namespace plumule::logbook {

struct Restored {
  std::int64_t sowings = 0;
  std::optional<std::string> last_entry;  // YYYY-MM-DDTHH:MM:SSZ, of the journal's last line
  std::optional<std::string> former;      // where what stood there lies now, with its journal
  bool former_sound = false;              // so that `restore` can go back to it
  Leftovers leftovers;                    // found beside the backup, or beside an empty place
};

// A verified copy of the backup takes the logbook's place, durably. Whatever stands there (sound,
// damaged, emptied, of another program) is kept beside it under a new name, with its journal; at
// each moment one of the two stands at `path`. Makes missing folders. Waits up to 5 seconds for who
// is at work. Throws Unusable, and leaves all as it was: the backup is none, is damaged, is newer
// or is the logbook itself; the logbook is locked or read-only; the disk is full.
Restored restore(const std::string& backup, const std::string& path);

}  // namespace plumule::logbook
