#include "logbook/store/one_moment.hpp"

#include <sqlite3.h>

#include <exception>

namespace plumule::logbook {

OneMoment::OneMoment(Store& store)
    : store_(store), begun_(sqlite3_get_autocommit(store.database().getHandle()) != 0) {
  if (begun_) Query(store_, "begin").run();
}

// Nothing was written, so there is nothing that could fail or be lost.
OneMoment::~OneMoment() {
  if (!begun_) return;
  try {
    Query(store_, "commit").run();
  } catch (const std::exception&) {
    sqlite3_exec(store_.database().getHandle(), "rollback", nullptr, nullptr, nullptr);
  }
}

}  // namespace plumule::logbook
