// Loading many counts at once: without the file's guards for each row, which are then tested over
// all rows in one pass before anything is committed.
#pragma once

#include "logbook/store/store.hpp"

namespace plumule::logbook {

// Within a transaction: takes the guards off and lets rows in without looking up what they refer
// to. Whatever happens, the connection looks again once this is gone; the guards come back with
// `lay`, or with the transaction when it is rolled back.
class BulkLoad {
 public:
  explicit BulkLoad(Store& store);
  BulkLoad(const BulkLoad&) = delete;
  BulkLoad& operator=(const BulkLoad&) = delete;
  ~BulkLoad();

  // Whether every rule of the guards and every reference holds over the whole file; then the guards
  // are laid again.
  bool lay();

 private:
  Store& store_;
};

// The rules of schema/guards.sql over every count, read once beside the sowings: order and range of
// the totals, units sown, the days of sowing and ending, and that each count has its sowing.
bool counts_are_sound(Store& store);

// No sowing has more assessed than did not come up.
bool assessments_are_sound(Store& store);

}  // namespace plumule::logbook
