// The ledger is only added to: a correction is a line of its own.
#include "bench/stock.hpp"

#include <algorithm>
#include <cmath>

#include "logbook/record/lots.hpp"
#include "logbook/record/stock.hpp"

namespace plumule::bench {
namespace {

// What a sowing takes from such a ledger: in seeds, in grams where it is kept by weight alone; the
// lot's seeds a gram turn one into the other. Neither where that is not known.
records::StockLine taken(const records::Sowing& sowing, const Stock& stock,
                         const std::optional<double>& seeds_per_gram) {
  records::StockLine line;
  line.lot = sowing.lot;
  line.on = sowing.sown.date;
  line.reason = "sown";
  line.sowing = sowing.id;
  std::optional<std::int64_t> seeds;
  if (sowing.units) seeds = *sowing.units * sowing.seeds_per_cell;
  std::optional<double> grams = sowing.grams;
  if (!grams && seeds && seeds_per_gram) grams = static_cast<double>(*seeds) / *seeds_per_gram;
  if (!seeds && grams && seeds_per_gram) seeds = std::llround(*grams * *seeds_per_gram);
  if (stock.by_number && seeds)
    line.seeds = -*seeds;
  else if (stock.by_weight && grams)
    line.grams = -*grams;
  return line;
}

}  // namespace

Stock stock_left(logbook::Logbook& logbook, const std::string& lot) {
  Stock stock;
  for (const records::StockLine& line : logbook::stock_of(logbook, lot)) {
    stock.by_number = stock.by_number || line.seeds.has_value();
    stock.by_weight = stock.by_weight || line.grams.has_value();
    stock.seeds += line.seeds.value_or(0);
    stock.grams += line.grams.value_or(0);
  }
  return stock;
}

bool stands_already(logbook::Logbook& logbook, const records::StockLine& line) {
  const std::vector<records::StockLine> ledger = logbook::stock_of(logbook, line.lot);
  return std::any_of(ledger.begin(), ledger.end(), [&](const records::StockLine& one) {
    return one.on == line.on && one.seeds == line.seeds && one.grams == line.grams &&
           one.reason == line.reason;
  });
}

void take_from_stock(logbook::Entry& entry, const records::Sowing& sowing) {
  if (sowing.lot.empty()) return;
  const Stock stock = stock_left(entry.logbook(), sowing.lot);
  const records::Lot lot = logbook::lot_named(entry.logbook(), sowing.lot);
  const records::StockLine line = taken(sowing, stock, lot.seeds_per_gram);
  if (line.seeds || line.grams) logbook::add_stock(entry, line);
}

std::optional<records::Sowing> took_nothing(logbook::Logbook& logbook,
                                            const std::vector<records::Sowing>& sown,
                                            const std::string& lot) {
  if (!stock_left(logbook, lot).kept()) return std::nullopt;
  const std::vector<records::StockLine> ledger = logbook::stock_of(logbook, lot);
  const auto found = std::find_if(sown.begin(), sown.end(), [&](const records::Sowing& sowing) {
    return sowing.lot == lot &&
           std::none_of(ledger.begin(), ledger.end(),
                        [&](const records::StockLine& line) { return line.sowing == sowing.id; });
  });
  return found == sown.end() ? std::nullopt : std::optional(*found);
}

void correct_stock(logbook::Entry& entry, const records::Sowing& before,
                   const records::Sowing& after) {
  if (before.lot.empty()) return;
  std::int64_t seeds = 0;  // taken so far, below 0
  double grams = 0;
  bool found = false;
  for (const records::StockLine& line : logbook::stock_of(entry.logbook(), before.lot)) {
    if (line.sowing != before.id) continue;
    found = true;
    seeds += line.seeds.value_or(0);
    grams += line.grams.value_or(0);
  }
  if (!found) return;
  const auto add = [&](records::StockLine line) {
    line.on = entry.today();
    line.reason = "correction";
    if (line.seeds == 0) line.seeds.reset();
    if (line.grams == 0) line.grams.reset();
    if (line.seeds || line.grams) logbook::add_stock(entry, line);
  };
  records::StockLine back;
  back.lot = before.lot;
  back.sowing = before.id;
  back.seeds = -seeds;
  back.grams = -grams;
  if (after.lot == before.lot) {
    const records::Lot lot = logbook::lot_named(entry.logbook(), after.lot);
    const records::StockLine now =
        taken(after, stock_left(entry.logbook(), after.lot), lot.seeds_per_gram);
    *back.seeds += now.seeds.value_or(0);
    *back.grams += now.grams.value_or(0);
    add(back);
    return;
  }
  add(back);
  take_from_stock(entry, after);
}

}  // namespace plumule::bench
