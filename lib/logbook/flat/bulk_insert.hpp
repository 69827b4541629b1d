// Rows into a table, several to a statement: SQLite then opens the table, and sets up the table's
// checks, once for all of them.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "logbook/journal/ledger.hpp"
#include "logbook/journal/tally.hpp"
#include "logbook/store/scan.hpp"

namespace plumule::logbook {

// Whole rows have every column of the table, in its order. What they add to the tally of the
// journal line is then told here, at a quarter of what it costs to have SQLite tell it.
enum class Rows { whole, partial };

class BulkInsert {
 public:
  // `columns` are separated by commas; `batch` rows go together, 1 at least.
  BulkInsert(Store& store, const std::string& table, const std::string& columns, std::size_t batch,
             Rows rows = Rows::partial);

  // The next column of the next row. Rows are written when a batch is full.
  void add(std::int64_t value);
  void add(double value);
  void add(const std::string& value);
  void add(std::nullopt_t);
  template <class Held>
  void add(const std::optional<Held>& value) {
    if (value)
      add(*value);
    else
      add(std::nullopt);
  }
  // What is left over. The caller's last act.
  void finish();

 private:
  void added();
  void write();
  void run(Scan& insert);
  void tell(TallyWatch& watch);

  Store& store_;
  std::string table_;
  std::string columns_;
  std::size_t width_;
  std::size_t full_;
  Scan insert_;
  const TalliedTable* tallied_ = nullptr;  // of whole rows
  RowHash hash_;
  std::vector<Value> values_;
};

}  // namespace plumule::logbook
