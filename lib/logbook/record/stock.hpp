// The stock ledger of lots, and the places they were kept in.
#pragma once

#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/lot.hpp"

namespace plumule::logbook {

records::Id add_stock(Entry& entry, const records::StockLine& line);
std::vector<records::StockLine> stock_of(Logbook& logbook, const std::string& lot);
records::Id add_storage(Entry& entry, const records::StorageSpan& span);
std::vector<records::StorageSpan> storage_of(Logbook& logbook, const std::string& lot);

}  // namespace plumule::logbook
