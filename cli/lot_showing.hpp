// Showing lots: all of them in a list, or one with its stock, storage and cautions.
#pragma once

#include <string>

#include "cli/json.hpp"
#include "logbook/logbook.hpp"
#include "records/lot.hpp"

namespace plumule::cli {

struct Stock {
  bool by_number = false;  // whether the ledger has lines in seeds
  bool by_weight = false;  // whether it has lines in grams
  std::int64_t seeds = 0;
  double grams = 0;
  bool kept() const { return by_number || by_weight; }
};

Stock stock_left(logbook::Logbook& logbook, const std::string& lot);
// "150 seeds left", "150 seeds and 12 g left", "no ledger".
std::string in_words(const Stock& stock);

void list_lots(const Context& context, logbook::Logbook& logbook);
void show_lot(const Context& context, logbook::Logbook& logbook, const records::Lot& lot);
// The answer about one lot: its fields, stock, storage, cautions.
Json lot_answer(logbook::Logbook& logbook, const records::Lot& lot);

}  // namespace plumule::cli
