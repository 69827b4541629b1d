// A lot's fields as options: declared, and laid over a lot.
#pragma once

#include <string>
#include <vector>

#include "cli/options/arguments.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/logbook.hpp"
#include "records/lot.hpp"

namespace plumule::cli {

void declare_lot_fields(Options& options);

// Whether any field, stock or storage option was typed.
// The names of all of them.
std::vector<std::string_view> lot_options();
bool gives_lot_fields(const Arguments& arguments);
bool gives_stock(const Arguments& arguments);
bool gives_storage(const Arguments& arguments);

// Lays what was typed over `lot`; throws WrongUsage where it cannot be told what is meant.
void lay_fields(const Arguments& arguments, records::Lot& lot);

// Each field that differs, in words: "label: 90 %, was 85 %".
std::vector<std::string> differences(const records::Lot& before, const records::Lot& after);

// What a new lot takes over where nothing was typed: a split from its parent (all but stock), and
// the source of the lot entered last. Each is told in a sentence. Nothing else is inherited: own
// harvest has its own germination, and a mixture no single age.
std::vector<std::string> fill_new_lot(logbook::Logbook& logbook, const Arguments& arguments,
                                      records::Lot& lot);

records::StockLine stock_line(const Arguments& arguments, const std::string& lot,
                              records::Date today);
records::StorageSpan storage_span(const Arguments& arguments, const std::string& lot,
                                  logbook::Entry& entry);

// Whether the lot is of that crop, by any name of it.
bool of_crop(const records::Lot& lot, const std::string& crop);

}  // namespace plumule::cli
