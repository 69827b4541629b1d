#include "logbook/store/store.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::logbook {

void pack(Logbook& logbook) {
  // tryExec: the import is committed, so a file that is busy or a full disk costs nothing but
  // slack.
  logbook.store().database().tryExec("vacuum");
}

}  // namespace plumule::logbook
