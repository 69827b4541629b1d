#include "logbook/store/store.hpp"
#include "logbook/upkeep/copy.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::logbook {

Leftovers backup(Logbook& logbook, const std::string& path) {
  if (path.empty()) throw Unusable("A backup needs a file name.");
  return copy_verified(logbook.store(), path);
}

}  // namespace plumule::logbook
