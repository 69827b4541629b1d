// The ledger is only added to: a correction is a line of its own.
#include "cli/stock_taking.hpp"

#include "cli/lot_showing.hpp"
#include "logbook/lots.hpp"

namespace plumule::cli {
namespace {

// What a sowing takes from a ledger with so much in it.
records::StockLine taken(const records::Sowing& sowing, const Stock& stock) {
  records::StockLine line;
  line.lot = sowing.lot;
  line.on = sowing.sown.date;
  line.reason = "sown";
  line.sowing = sowing.id;
  const bool by_weight = sowing.grams && (!sowing.units || stock.grams > 0);
  if (by_weight)
    line.grams = -*sowing.grams;
  else if (sowing.units)
    line.seeds = -*sowing.units * sowing.seeds_per_cell;
  return line;
}

}  // namespace

void take_from_stock(logbook::Entry& entry, const records::Sowing& sowing) {
  if (sowing.lot.empty()) return;
  const Stock stock = stock_left(entry.logbook(), sowing.lot);
  if (!stock.kept) return;
  const records::StockLine line = taken(sowing, stock);
  if (line.seeds || line.grams) logbook::add_stock(entry, line);
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
    Stock held = stock_left(entry.logbook(), before.lot);
    held.grams -= grams;  // as it was before this sowing
    const records::StockLine now = taken(after, held);
    *back.seeds += now.seeds.value_or(0);
    *back.grams += now.grams.value_or(0);
    add(back);
    return;
  }
  add(back);
  take_from_stock(entry, after);
}

}  // namespace plumule::cli
