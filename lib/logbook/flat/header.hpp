// The header of a flat log: which column lies where, whatever their order.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/flat/errors.hpp"
#include "logbook/flat/log.hpp"

namespace plumule::logbook {

// The columns that say something of one look rather than of the sowing; the first two name it.
enum class RowCell : std::size_t {
  sowing,
  sown_on,
  counted_on,
  emerged,
  newly_emerged,
  lost,
  seedlings,
  soil_temp_c,
  soil_min_c,
  soil_max_c,
  counted_by,
  ended,
  ended_on,
  ended_why,
  note,
};
inline constexpr std::array<std::string_view, 15> row_columns = {
    "sowing",     "sown_on",   "counted_on",  "emerged",    "newly_emerged",
    "lost",       "seedlings", "soil_temp_c", "soil_min_c", "soil_max_c",
    "counted_by", "ended",     "ended_on",    "ended_why",  "note"};

// Every column of the flat log, those of a look first.
std::vector<std::string> flat_columns();

struct FactAt {
  std::size_t position = 0;  // in the row
  std::size_t fact = 0;      // in lot_facts(), sowing_facts() ...
};

struct FlatHeader {
  static constexpr std::size_t absent = static_cast<std::size_t>(-1);

  std::size_t width = 0;
  std::array<std::size_t, row_columns.size()> cells{};  // positions, or absent
  std::vector<FactAt> lot, treatment, batch, trial, sowing;
  std::vector<std::size_t> facts;  // positions of all these, with the sowing's label and date

  std::size_t at(RowCell cell) const { return cells[static_cast<std::size_t>(cell)]; }
};

// Reads the header row. What is unknown, twice there or missing is put into `errors` (column by
// column, with the nearest name); unknown columns are passed over and named in `ignored` instead
// where the options allow it.
FlatHeader read_header(std::span<const std::string_view> row, std::size_t line,
                       const ImportOptions& options, FlatErrors& errors,
                       std::vector<std::string>& ignored);

}  // namespace plumule::logbook
