// A sowing and its lot's stock: what is sown goes out, and what is amended follows.
#pragma once

#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

// A line of the lot's ledger for what was sown, in seeds or, of a lot kept by weight, in grams.
// None where the lot has no ledger or neither is known.
void take_from_stock(logbook::Entry& entry, const records::Sowing& sowing);

// What to do where one of these sowings took nothing from the lot's ledger, since weight and number
// are not comparable there; empty otherwise.
std::string not_taken_hint(logbook::Logbook& logbook, const std::vector<records::Sowing>& sown,
                           const std::string& lot);

// After an amendment of the number sown or of the lot: lines that put the ledgers right. None
// where the sowing had taken nothing from the ledger.
void correct_stock(logbook::Entry& entry, const records::Sowing& before,
                   const records::Sowing& after);

}  // namespace plumule::cli
