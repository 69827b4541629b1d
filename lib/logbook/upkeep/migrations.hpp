// The numbered migrations and the guards and views laid over them. A copy of an older file climbs
// the ladder, one step after the other in a single transaction, and takes its place.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "logbook/store/store.hpp"

namespace plumule::logbook {

struct Step {
  std::string name;  // schema/0001_record.sql
  std::string sql;
};

// user_version is the number of steps that a file has taken.
struct Ladder {
  std::vector<Step> steps;

  std::int64_t version() const { return static_cast<std::int64_t>(steps.size()); }
};

// The steps of schema/NNNN_*.sql, in order.
const Ladder& ladder();

// Every step, guards, views and marks into an empty database, in one transaction.
void lay_schema(Store& store, const Ladder& ladder);

// Within a transaction: all steps above version `from`, with guards and views laid anew. Throws
// where rows would be lost by it.
void climb(Store& store, const Ladder& ladder, std::int64_t from);

// Puts a copy that is up to date in the place of an older file, durably; returns the name that the
// older one bears from now on, or nothing where another process was faster. The path is to be
// opened anew then: `store` holds the older file. All is as it was where it throws.
std::optional<std::string> migrate(Store& store, const Ladder& ladder);

// Within a transaction: takes the guards off for a bulk load that is checked as a set
// before it commits (BulkLoad), and lays them again.
void lift_guards(Store& store);
void lay_guards(Store& store);

struct Marks {
  std::int64_t application = 0;
  std::int64_t version = 0;
};
Marks read_marks(Store& store);

}  // namespace plumule::logbook
