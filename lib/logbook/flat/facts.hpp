// The columns of the flat log that say something of a sowing, lot, treatment, batch or trial rather
// than of one look: a line each. A new field needs a line here and is then read, compared, written
// (one of a sowing also a line in FlatLayout::look_at_sowings).
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "logbook/flat/cells.hpp"
#include "records/lot.hpp"
#include "records/sowing.hpp"
#include "records/treatment.hpp"
#include "records/trial.hpp"

namespace plumule::logbook {

// What the cells of a column hold, as far as a spreadsheet may have changed them.
enum class Holds { figure, text, day, days };

template <class Record>
struct Fact {
  std::string_view column;
  // The cell that stands for the record's value; empty where it has none.
  std::string (*get)(const Record&);
  // Takes a cell that is not blank into the record.
  Reason (*set)(Record&, std::string_view);
  // Whether a record without this cell would be read the same: export needs no such column.
  bool (*usual)(const Record&);
  Holds holds = Holds::figure;
};

// In the order in which export writes them.
std::span<const Fact<records::Lot>> lot_facts();              // of the lot in column `lot`
std::span<const Fact<records::Treatment>> treatment_facts();  // of column `treatment`
std::span<const Fact<records::Batch>> batch_facts();          // of column `treated_in`
std::span<const Fact<records::Trial>> trial_facts();          // of column `trial`
// Of the sowing itself, with the names of its lot, treatment, batch, trial and block. Its crop and
// variety where it has a lot are `sowing_crop` and `sowing_variety`; `crop` and `variety` are the
// lot's, else the sowing's.
std::span<const Fact<records::Sowing>> sowing_facts();

// A record as the flat log takes it where nothing is said: units unknown.
records::Sowing unsaid_sowing();

}  // namespace plumule::logbook
