// The numbered migrations and the guards and views laid over them. An older file climbs the ladder
// one step after the other in a single transaction, after a verified copy was put beside it.
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

// Brings an older file up to date; returns the path of the copy put beside it, or nothing where
// another process was faster. The file is as it was, and no copy left, where it throws.
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
