// The ledger of changes: how a row that stood is changed or taken out so that it can come back.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {

// What a column holds; a row is its columns in the table's order.
using Value = std::variant<std::monostate, std::int64_t, double, std::string>;
using Row = std::vector<std::pair<std::string, Value>>;

// The tables whose rows belong to an entry, children before their parents.
const std::vector<std::string>& entry_tables();

// Rows as JSON objects and back, every value exactly as it was.
std::string to_json(const Row& row);
Row from_json(const std::string& json);  // throws Unusable where it is none

// The current row of a statement that selects all columns of a table.
Row row_of(const Query& query);

// The value of that column; null where the row has none such.
const Value* column(const Row& row, std::string_view name);

// What tells a row of the table from its others: `id`, of a count its sowing and time.
Row key_of(std::string_view table, const Row& row);

void put_row(Store& store, const std::string& table, const Row& row);
void set_row(Store& store, const std::string& table, const Row& key, const Row& columns);
void drop_row(Store& store, const std::string& table, const Row& key);

// A line of the ledger; no `after` where the row went.
void keep_change(Store& store, records::Id entry, std::string_view table, const Row& key,
                 const Row& before, const Row* after, bool undone = false);

// Changes one row by its id: only columns that differ are written and kept.
//   RowChange change(entry, "lots", lot.id);
//   change.set("variety", or_null(lot.variety));
//   change.save();
class RowChange {
 public:
  RowChange(Entry& entry, std::string table, records::Id id);

  void set(const std::string& column, std::int64_t value) { put(column, value); }
  void set(const std::string& column, int value) { put(column, std::int64_t{value}); }
  void set(const std::string& column, bool value) { put(column, std::int64_t{value}); }
  void set(const std::string& column, double value) { put(column, value); }
  void set(const std::string& column, const std::string& value) { put(column, value); }
  void set(const std::string& column, std::string_view value) { put(column, std::string(value)); }
  void set(const std::string& column, records::Date value) { put(column, records::to_text(value)); }
  template <class T>
  void set(const std::string& column, const std::optional<T>& value) {
    if (value)
      set(column, *value);
    else
      put(column, Value());
  }

  void save();  // where nothing differed nothing is written

 private:
  void put(const std::string& column, Value value);

  Entry& entry_;
  std::string table_;
  Row row_;
  Row before_;
  Row after_;
};

// Takes one row out by its id; the ledger keeps it whole.
void take_out(Entry& entry, const std::string& table, records::Id id);

}  // namespace plumule::logbook
