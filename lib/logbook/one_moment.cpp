#include "logbook/one_moment.hpp"

#include <sqlite3.h>

namespace plumule::logbook {

OneMoment::OneMoment(Store& store)
    : store_(store), begun_(sqlite3_get_autocommit(store.database().getHandle()) != 0) {
  if (begun_) Query(store_, "begin").run();
}

// Nothing was written, so there is nothing that could fail or be lost.
OneMoment::~OneMoment() {
  if (begun_) sqlite3_exec(store_.database().getHandle(), "commit", nullptr, nullptr, nullptr);
}

}  // namespace plumule::logbook
