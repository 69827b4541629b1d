// The stored course of one sowing, read and written as a whole.
#pragma once

#include <optional>
#include <vector>

#include "logbook/journal/ledger.hpp"
#include "records/count.hpp"
#include "records/lot.hpp"

namespace plumule::logbook {

struct CountRow {
  records::Count count;
  std::optional<records::Id> person;
  records::Id entry = 0;  // the command that wrote it

  bool operator==(const CountRow&) const = default;
};

// In order of time.
std::vector<CountRow> read_course(Store& store, records::Id sowing);

// Makes the stored course `was` into `now`, both in order of time, `now` with its totals derived.
// Rows are not edited: from the first to the last that differ they go and come again in order of
// time, so that the file's guards hold at each step.
void write_course(Store& store, records::Id sowing, const std::vector<CountRow>& was,
                  const std::vector<CountRow>& now);

std::vector<records::Count> counts_in(const std::vector<CountRow>& rows);

// The stored columns of a count but its derived total, as the ledger of changes keeps them.
Row image_of(records::Id sowing, const CountRow& row);

// What was entered, from a row's columns kind, value, high, lost, seedlings beginning at `column`.
records::Entered entered_in(const Query& row, int column);

}  // namespace plumule::logbook
