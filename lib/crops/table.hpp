// A table of schema/reference: its text, compiled in, is cut into cells at first use and never
// copied. Used inside lib/crops only.
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "crops/origin.hpp"

namespace plumule::crops {

class Table {
 public:
  class Row {
   public:
    Row(const Table& table, std::size_t first) : table_(&table), first_(first) {}

    // The cell below that heading. Throws std::logic_error for a heading the table lacks: a mistake
    // of ours, which any test that reads the table shows.
    std::string_view operator[](std::string_view heading) const;

    // The cell as a number; none where it is blank. Throws std::logic_error where it is neither.
    std::optional<double> number(std::string_view heading) const;

   private:
    const Table* table_;
    std::size_t first_;  // of the row's cells
  };

  // `name` is that of a file in schema/reference. Throws std::logic_error where it is not compiled
  // in, or a row has not as many cells as the header.
  explicit Table(std::string_view name);
  Table(const Table&) = delete;
  Table& operator=(const Table&) = delete;

  // Rows look into the table, so that it must outlive them.
  std::vector<Row> rows() const&;
  std::vector<Row> rows() const&& = delete;

  // The rows whose first cell is `key`, in the file's order.
  std::vector<Row> rows_of(std::string_view key) const&;
  std::vector<Row> rows_of(std::string_view key) const&& = delete;

 private:
  std::string_view name_;
  std::size_t width_ = 0;
  std::vector<std::string_view> cells_;  // the header, then row by row
  std::deque<std::string> unquoted_;     // cells that hold a doubled quote
};

// The origin that a row states in its source, trust and note.
Origin origin(const Table::Row& row);

}  // namespace plumule::crops
