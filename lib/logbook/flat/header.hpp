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
  soil_temp_f,
  soil_min_f,
  soil_max_f,
  counted_by,
  ended,
  ended_on,
  ended_why,
  note,
};
inline constexpr std::array<std::string_view, 18> row_columns = {
    "sowing",     "sown_on",     "counted_on", "emerged",    "newly_emerged", "lost",
    "seedlings",  "soil_temp_c", "soil_min_c", "soil_max_c", "soil_temp_f",   "soil_min_f",
    "soil_max_f", "counted_by",  "ended",      "ended_on",   "ended_why",     "note"};

// Every column of the flat log, those of a look first.
std::vector<std::string> flat_columns();

struct FactAt {
  std::size_t position = 0;  // in the row
  std::size_t fact = 0;      // in lot_facts(), sowing_facts() ...
};

// A column of the sheet that the flat log does not know.
struct UnknownColumn {
  std::size_t position = 0;
  std::string name;               // as columns are compared
  std::string text;               // as it stands
  std::vector<std::string> near;  // columns that may be meant
  std::string meant;              // the one that is, as far as can be told; may be empty
};

struct FlatHeader {
  static constexpr std::size_t absent = static_cast<std::size_t>(-1);

  std::size_t width = 0;
  std::array<std::size_t, row_columns.size()> cells{};  // positions, or absent
  std::vector<FactAt> lot, treatment, batch, trial, sowing;
  std::vector<std::size_t> facts;  // positions of all these, with the sowing's label and date
  std::vector<std::string> names;  // of every column; empty where it is passed over
  std::vector<UnknownColumn> unknown;

  std::size_t at(RowCell cell) const { return cells[static_cast<std::size_t>(cell)]; }
  // Whether a row can be told of which sowing it is.
  bool names_sowings() const {
    return at(RowCell::sowing) != absent && at(RowCell::sown_on) != absent;
  }
};

// Reads the header row. What is twice there or missing is put into `errors`. A column that is not
// known is read for the one that is meant, where that can be told, so that its cells can be looked
// at; it stays among the unknown.
FlatHeader read_header(std::span<const std::string_view> row, std::size_t line,
                       const ImportOptions& options, FlatErrors& errors);

}  // namespace plumule::logbook
