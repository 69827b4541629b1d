// The counts of one sowing after the other, as fast as the file gives them: of the work of reading
// a trial they are most, and SQLite hands a row over to a function of ours at half the cost of
// being asked for it.
#pragma once

#include <vector>

#include "logbook/store/gathering.hpp"
#include "logbook/store/store.hpp"
#include "records/count.hpp"
#include "records/lot.hpp"

struct sqlite3;

namespace plumule::logbook {

// Lets the statements of a connection call what gathers counts; once, before the first CourseScan.
void allow_gathering(sqlite3* database, Gathering& gathering);

class CourseScan {
 public:
  explicit CourseScan(Store& store);

  // In order of time, without who counted; `counts` loses what it held.
  void read(records::Id sowing, std::vector<records::Count>& counts);

 private:
  Store& store_;
  Query gather_;
};

}  // namespace plumule::logbook
