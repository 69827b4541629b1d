// A lot's stock: what its ledger adds up to, what a sowing takes out, and what follows where the
// sowing is amended.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::bench {

struct Stock {
  bool by_number = false;  // whether the ledger has lines in seeds
  bool by_weight = false;  // whether it has lines in grams
  std::int64_t seeds = 0;
  double grams = 0;
  bool kept() const { return by_number || by_weight; }
  bool overdrawn() const { return seeds < 0 || grams < -0.0005; }
};

Stock stock_left(logbook::Logbook& logbook, const std::string& lot);

// Whether a line like this one stands in the ledger of that day already.
bool stands_already(logbook::Logbook& logbook, const records::StockLine& line);

// A line of the lot's ledger for what was sown, in seeds or, of a lot kept by weight, in grams.
// None where the lot has no ledger or neither is known.
void take_from_stock(logbook::Entry& entry, const records::Sowing& sowing);

// The first of these sowings that took nothing from the lot's ledger, since weight and number are
// not comparable there; none where each did, or where no ledger is kept.
std::optional<records::Sowing> took_nothing(logbook::Logbook& logbook,
                                            const std::vector<records::Sowing>& sown,
                                            const std::string& lot);

// After an amendment of the number sown or of the lot: lines that put the ledgers right. None
// where the sowing had taken nothing from the ledger.
void correct_stock(logbook::Entry& entry, const records::Sowing& before,
                   const records::Sowing& after);

}  // namespace plumule::bench
