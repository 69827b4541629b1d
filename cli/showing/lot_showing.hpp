// Showing lots: all of them in a list, or one with its stock, storage and cautions.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "bench/stock.hpp"
#include "cli/showing/json.hpp"
#include "logbook/logbook.hpp"
#include "records/lot.hpp"

namespace plumule::cli {

// "150 seeds left", "150 seeds and 12 g left", "no ledger", "20 seeds more went out than came in".
std::string in_words(const bench::Stock& stock);
// A weight as a kitchen scale shows it: three figures or so.
std::string grams_shown(double grams);
// What to do where more went out than came in; empty otherwise.
std::string overdrawn_hint(const std::string& lot, const bench::Stock& stock);
// What to do where one of these sowings took nothing from the lot's ledger, since weight and number
// are not comparable there; empty otherwise.
std::string not_taken_hint(logbook::Logbook& logbook, const std::vector<records::Sowing>& sown,
                           const std::string& lot);

// The lots that `fits` takes, in a table.
void list_lots(const Context& context, logbook::Logbook& logbook,
               const std::function<bool(const records::Lot&)>& fits);
void show_lot(const Context& context, logbook::Logbook& logbook, const records::Lot& lot);
// The answer about one lot: its fields, stock, storage, cautions.
Json lot_answer(logbook::Logbook& logbook, const records::Lot& lot);

}  // namespace plumule::cli
