// Several questions to the file answered as of one moment, and the file locked once for all of
// them.
#pragma once

#include <optional>

#include "logbook/store/store.hpp"

namespace plumule::logbook {

// While it lives the file is seen as it was at the first question; writers wait. So it must not
// outlive what is waited for: a reader's keyboard, a pager. Within an Entry it does nothing.
class OneMoment {
 public:
  explicit OneMoment(Store& store);
  OneMoment(const OneMoment&) = delete;
  OneMoment& operator=(const OneMoment&) = delete;
  ~OneMoment();

 private:
  std::optional<SQLite::Transaction> transaction_;
};

}  // namespace plumule::logbook
