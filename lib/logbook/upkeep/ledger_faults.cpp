#include "logbook/upkeep/ledger_faults.hpp"

#include <map>

#include "logbook/journal/ledger.hpp"

namespace plumule::logbook {
namespace {

bool known_table(const std::string& table) {
  for (const std::string& known : entry_tables())
    if (known == table) return true;
  return false;
}

// What each column of each changed row was last made, by "table key".
struct Last {
  std::string table;
  Row key;
  std::map<std::string, Value> columns;
  bool gone = false;
  std::int64_t entry = 0;
  bool accepted = false;  // whatever another program made of it since
};
using Lasts = std::map<std::string, Last>;

void read_ledger(Store& store, LedgerFaults& faults, Lasts& lasts) {
  std::int64_t entry = 0;
  std::int64_t seq = 0;
  Query find(store,
             "select c.entry, c.seq, c.tab, c.key, c.before, c.after, c.undone, "
             "j.undone_at is not null, j.accepted_at is not null from changes c left join journal "
             "j on j.id = c.entry "
             "order by c.entry, c.seq");
  while (find.next()) {
    seq = find.integer(0) == entry ? seq + 1 : 1;
    entry = find.integer(0);
    const std::string line = "The ledger of changes, journal line " + std::to_string(entry);
    if (find.integer(1) != seq) {
      if (find.integer(8) == 0) faults.push_back({entry, line + ": a change is missing."});
      seq = find.integer(1);
    }
    const std::string table = find.text(2);
    if (!known_table(table) || find.null(4)) {
      faults.push_back(
          {entry, line + ": a change is of no table of the record, or lacks what was before."});
      continue;
    }
    if (find.integer(6) != 0) {
      if (find.integer(7) == 0)
        faults.push_back({entry, line + ": rows were taken back, but the line stands."});
      continue;
    }
    if (find.integer(7) != 0) continue;
    Last& last = lasts[table + ' ' + find.text(3)];
    last.table = table;
    last.key = from_json(find.text(3));
    last.entry = entry;
    last.gone = find.null(5);
    last.accepted = find.integer(8) != 0;
    if (last.gone)
      last.columns.clear();
    else
      for (auto& [column, value] : from_json(find.text(5))) last.columns[column] = std::move(value);
  }
}

std::string condition_of(const Row& key) {
  std::string where;
  for (const auto& [column, value] : key)
    if (column == "id" || column == "sowing" || column == "at")
      where += (where.empty() ? "" : " and ") + column + " = " +
               std::to_string(
                   std::holds_alternative<std::int64_t>(value) ? std::get<std::int64_t>(value) : 0);
  return where.empty() ? "false" : where;
}

void compare(Store& store, LedgerFaults& faults, const Last& last) {
  if (last.accepted) return;
  if (last.gone) return;  // another row may have taken its place since
  const std::string line =
      "A row of " + last.table + " that journal line " + std::to_string(last.entry) + " changed ";
  Query find(store, "select * from " + last.table + " where " + condition_of(last.key));
  if (!find.next()) {
    faults.push_back({last.entry, line + "is not there."});
    return;
  }
  for (const auto& [column, value] : row_of(find)) {
    const auto kept = last.columns.find(column);
    if (kept == last.columns.end() || kept->second == value) continue;
    std::string fact = line;
    fact.append("has another ").append(column).append(" now than that line gave it.");
    faults.push_back({last.entry, std::move(fact)});
  }
}

}  // namespace

LedgerFaults ledger_faults(Store& store) {
  LedgerFaults faults;
  Lasts lasts;
  read_ledger(store, faults, lasts);
  for (const auto& [name, last] : lasts) compare(store, faults, last);
  return faults;
}

}  // namespace plumule::logbook
