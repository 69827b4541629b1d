#include "logbook/store/one_moment.hpp"

#include <sqlite3.h>

#include <exception>

namespace plumule::logbook {

OneMoment::OneMoment(Store& store) {
  if (sqlite3_get_autocommit(store.database().getHandle()) == 0) return;
  try {
    transaction_.emplace(store.database());
  } catch (const SQLite::Exception& error) {
    store.refuse(error);
  }
}

// Nothing was written, so there is nothing that could fail or be lost.
OneMoment::~OneMoment() {
  if (!transaction_) return;
  try {
    transaction_->commit();
  } catch (const std::exception&) {
    transaction_.reset();  // which rolls back
  }
}

}  // namespace plumule::logbook
