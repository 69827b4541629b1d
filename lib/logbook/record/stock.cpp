#include "logbook/record/stock.hpp"

#include "logbook/record/lots.hpp"
#include "logbook/store/store.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {

using records::Refused;

records::Id add_stock(Entry& entry, const records::StockLine& line) {
  check(line);
  const records::Lot lot = lot_named(entry.logbook(), line.lot);
  if (line.on > entry.today())
    throw Refused("Lot " + lot.code + ": " + records::spoken(line.on, true) + " has not come yet.");
  Store& store = entry.logbook().store();
  Query(store,
        "insert into stock (lot, day, seeds, grams, reason, sowing, entry) "
        "values (?, ?, ?, ?, ?, ?, ?)",
        lot.id, line.on, line.seeds, line.grams, line.reason, line.sowing, entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

std::vector<records::StockLine> stock_of(Logbook& logbook, const std::string& code) {
  const records::Lot lot = lot_named(logbook, code);
  std::vector<records::StockLine> lines;
  Query find(logbook.store(),
             "select id, day, seeds, grams, reason, sowing from stock where lot = ? "
             "order by day, id",
             lot.id);
  while (find.next()) {
    records::StockLine& line = lines.emplace_back();
    line.id = find.integer(0);
    line.lot = lot.code;
    line.on = find.date(1);
    line.seeds = find.maybe_integer(2);
    line.grams = find.maybe_real(3);
    line.reason = find.text(4);
    line.sowing = find.maybe_integer(5);
  }
  return lines;
}

records::Id add_storage(Entry& entry, const records::StorageSpan& span) {
  check(span);
  const records::Lot lot = lot_named(entry.logbook(), span.lot);
  if (span.since > entry.today())
    throw Refused("Lot " + lot.code + ": " + records::spoken(span.since, true) +
                  " has not come yet.");
  Store& store = entry.logbook().store();
  if (Query(store, "select 1 from storage where lot = ? and since = ?", lot.id, span.since).next())
    throw Refused("Lot " + lot.code + ": how it is kept from " + records::spoken(span.since, true) +
                      " on is written down already.",
                  {{records::Advice::undo_or_set_day}});
  Query(store,
        "insert into storage (lot, since, temperature_c, humidity, moisture, place, entry) "
        "values (?, ?, ?, ?, ?, ?, ?)",
        lot.id, span.since, span.temperature_c, span.humidity, span.moisture, or_null(span.place),
        entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

std::vector<records::StorageSpan> storage_of(Logbook& logbook, const std::string& code) {
  const records::Lot lot = lot_named(logbook, code);
  std::vector<records::StorageSpan> spans;
  Query find(logbook.store(),
             "select id, since, temperature_c, humidity, moisture, place from storage "
             "where lot = ? order by since",
             lot.id);
  while (find.next()) {
    records::StorageSpan& span = spans.emplace_back();
    span.id = find.integer(0);
    span.lot = lot.code;
    span.since = find.date(1);
    span.temperature_c = find.maybe_real(2);
    span.humidity = find.maybe_real(3);
    span.moisture = find.maybe_real(4);
    span.place = find.text(5);
  }
  return spans;
}

}  // namespace plumule::logbook
