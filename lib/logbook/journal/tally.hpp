// What one journal line wrote: how many rows, and a digest of them. By it `check` names the command
// whose rows are missing, altered or half there.
//
// The digest is the sum, modulo 2^64, of the 64-bit XXH3 hashes
// (https://github.com/Cyan4973/xxHash) of the rows: in whatever order they were written, and a row
// that the command took out again is subtracted. Hashed is what was entered; of a count not the
// derived total, which later entries move.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "logbook/journal/ledger.hpp"

namespace plumule::logbook {

struct Tally {
  std::int64_t rows = 0;
  std::uint64_t digest = 0;

  void add(std::uint64_t row) {
    ++rows;
    digest += row;
  }
  void take(std::uint64_t row) {
    --rows;
    digest -= row;
  }
  bool operator==(const Tally&) const = default;
};

// One row, given column by column in the table's order. Absent values are passed over, so that a
// column which a later make of the record adds changes no digest of before; a number is the same
// whether it is kept as an integer or as a real, as SQLite keeps it either way.
class RowHash {
 public:
  void begin(std::string_view table);
  void skip() { ++column_; }
  void add(std::int64_t value);
  void add(double value);
  void add(std::string_view value);
  void add(const Value& value);
  std::uint64_t end();

 private:
  char* room(std::size_t size);

  std::vector<char> bytes_;  // of which the row fills the first
  std::size_t filled_ = 0;
  unsigned char column_ = 0;
};

// Tables whose rows belong to a journal line: those of the record, and the ledger of changes.
struct TalliedTable {
  std::string_view name;
  int entry;         // the column that holds the line
  int derived = -1;  // the column that is no part of what was entered
  int undone = -1;   // rows where it is not 0 were kept by a later undo
};
const TalliedTable* tallied(std::string_view table);

// A row as the ledger keeps it, without derived columns.
std::uint64_t hash_of(const TalliedTable& table, const Row& row);

// The line itself, which is a row of its tally too.
std::uint64_t hash_of_line(std::string_view at, std::string_view by, std::string_view command,
                           std::string_view summary, std::string_view day);

}  // namespace plumule::logbook
