// What export settles before its first row: which columns the logbook fills, and what is said of
// each lot, treatment, batch and trial, ready to be written.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/flat/csv_writer.hpp"
#include "logbook/flat/facts.hpp"
#include "logbook/flat/sheet/safe_cells.hpp"
#include "logbook/logbook.hpp"

namespace plumule::logbook {

// The columns of one kind of record that are written.
template <class Record>
class FactCells {
 public:
  explicit FactCells(std::span<const Fact<Record>> facts) : facts_(facts), used_(facts.size()) {}

  // A column is written where any record that is looked at needs it.
  void look_at(const Record& record) {
    for (std::size_t i = 0; i < facts_.size(); ++i)
      if (!used_[i] && !facts_[i].usual(record)) used_[i] = true;
  }
  void use(std::string_view column) {
    for (std::size_t i = 0; i < facts_.size(); ++i)
      if (facts_[i].column == column) used_[i] = true;
  }
  // For each column that is written: a comma, and its name or the record's cell.
  void append_names(std::string& row) const {
    for (std::size_t i = 0; i < facts_.size(); ++i)
      if (used_[i]) (row += ',').append(facts_[i].column);
  }
  void append_cells(std::string& row, const Record& record) const {
    for (std::size_t i = 0; i < facts_.size(); ++i) {
      if (!used_[i]) continue;
      row += ',';
      if (facts_[i].holds == Holds::text)
        append_text(row, facts_[i].get(record));
      else
        append_cell(row, facts_[i].get(record));
    }
  }
  // The text of one column, and nothing in the others.
  void append_only(std::string& row, std::string_view column, std::string_view cell,
                   std::string_view other = {}, std::string_view other_cell = {}) const {
    for (std::size_t i = 0; i < facts_.size(); ++i) {
      if (!used_[i]) continue;
      row += ',';
      if (facts_[i].column == column) append_text(row, cell);
      if (facts_[i].column == other) append_text(row, other_cell);
    }
  }

 private:
  std::span<const Fact<Record>> facts_;
  std::vector<bool> used_;
};

// Cells that follow from a name, and whether a sowing was met that has it.
struct NamedCells {
  std::string cells;
  std::string crop;  // of a lot
  std::string variety;
  std::string treatment;  // of a batch
  bool sown = false;
};
using CellsByName = std::map<std::string, NamedCells, std::less<>>;

// The columns of a look that the logbook fills, beyond those that are always written.
struct LookColumns {
  bool newly = false, lost = false, seedlings = false, person = false;
  bool spot = false, low = false, high = false, note = false;
  bool ended = false, ended_on = false, ended_why = false;

  // A comma and the name for each column of a look.
  std::string names() const;
};

struct FlatLayout {
  explicit FlatLayout(Logbook& logbook);

  std::string header() const;
  // What stands before the cells of a look: the same for all looks of a sowing.
  std::string sowing_cells(const records::Sowing& sowing);
  // Rows of lots, treatments, batches and trials that no sowing named, without a line's end.
  std::vector<std::string> rows_of_unsown() const;

  FactCells<records::Lot> lot_facts;
  FactCells<records::Treatment> treatment_facts;
  FactCells<records::Batch> batch_facts;
  FactCells<records::Trial> trial_facts;
  FactCells<records::Sowing> sowing_facts;
  CellsByName lots, treatments, batches, trials;
  LookColumns look;
  // Sowings that are open though their label was sown again later: the flat log must say so.
  std::set<records::Id> kept_open;

 private:
  void look_at_names(Logbook& logbook);
  void look_at_sowings(Logbook& logbook);
  void look_at_looks(Logbook& logbook);
  const std::string& cells_of(const CellsByName& names, const std::string& name) const;
};

// What the flat form does not carry, in words.
std::vector<std::string> not_carried(Logbook& logbook);

}  // namespace plumule::logbook
