// Showing lots: all of them in a list, or one with its stock, storage and cautions.
#pragma once

#include <functional>
#include <string>

#include "cli/showing/json.hpp"
#include "logbook/logbook.hpp"
#include "records/lot.hpp"

namespace plumule::cli {

struct Stock {
  bool by_number = false;  // whether the ledger has lines in seeds
  bool by_weight = false;  // whether it has lines in grams
  std::int64_t seeds = 0;
  double grams = 0;
  bool kept() const { return by_number || by_weight; }
  bool overdrawn() const { return seeds < 0 || grams < -0.0005; }
};

Stock stock_left(logbook::Logbook& logbook, const std::string& lot);
// "150 seeds left", "150 seeds and 12 g left", "no ledger", "20 seeds more went out than came in".
std::string in_words(const Stock& stock);
// A weight as a kitchen scale shows it: three figures or so.
std::string grams_shown(double grams);
// What to do where more went out than came in; empty otherwise.
std::string overdrawn_hint(const std::string& lot, const Stock& stock);

// The lots that `fits` takes, in a table.
void list_lots(const Context& context, logbook::Logbook& logbook,
               const std::function<bool(const records::Lot&)>& fits);
void show_lot(const Context& context, logbook::Logbook& logbook, const records::Lot& lot);
// The answer about one lot: its fields, stock, storage, cautions.
Json lot_answer(logbook::Logbook& logbook, const records::Lot& lot);

}  // namespace plumule::cli
