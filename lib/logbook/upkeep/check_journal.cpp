#include <map>
#include <regex>

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/findings.hpp"

namespace plumule::logbook {
namespace {

void check_lines(Store& store, Findings& findings) {
  static const std::regex moment("[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z");
  Query find(store, "select id, at, undone_at, undone_by from journal order by id");
  while (find.next()) {
    const std::string line = "Journal line " + std::to_string(find.integer(0));
    if (!std::regex_match(find.text(1), moment)) findings.add(line + " has no readable time.");
    if (!find.null(2) && !std::regex_match(find.text(2), moment))
      findings.add(line + " was taken back at no readable time.");
    if (find.null(2) != find.null(3)) findings.add(line + " says half that it was taken back.");
  }
  // Commands are taken back from the last one on, so that none later than an undone one that has
  // left rows could stand on them; what counts is that the undone have left none.
  for (const std::string& table : entry_tables()) {
    Query left(store, "select count(*), min(t.entry) from " + table +
                          " t join journal j on j.id = t.entry where j.undone_at is not null");
    if (left.next() && left.integer(0) > 0)
      findings.add("Journal line " + std::to_string(left.integer(1)) + " was taken back, but " +
                   std::to_string(left.integer(0)) + " rows of " + table + " still stand.");
  }
}

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
};
using Lasts = std::map<std::string, Last>;

void read_ledger(Store& store, Findings& findings, Lasts& lasts) {
  std::int64_t entry = 0;
  std::int64_t seq = 0;
  Query find(store,
             "select c.entry, c.seq, c.tab, c.key, c.before, c.after, c.undone, "
             "j.undone_at is not null from changes c left join journal j on j.id = c.entry "
             "order by c.entry, c.seq");
  while (find.next()) {
    seq = find.integer(0) == entry ? seq + 1 : 1;
    entry = find.integer(0);
    const std::string line = "The ledger of changes, journal line " + std::to_string(entry);
    if (find.integer(1) != seq) {
      findings.add(line + ": a change is missing.");
      seq = find.integer(1);
    }
    const std::string table = find.text(2);
    if (!known_table(table) || find.null(4)) {
      findings.add(line + ": a change is of no table of the record, or lacks what was before.");
      continue;
    }
    if (find.integer(6) != 0) {
      if (find.integer(7) == 0) findings.add(line + ": rows were taken back, but the line stands.");
      continue;
    }
    if (find.integer(7) != 0) continue;
    Last& last = lasts[table + ' ' + find.text(3)];
    last.table = table;
    last.key = from_json(find.text(3));
    last.entry = entry;
    last.gone = find.null(5);
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

void compare(Store& store, Findings& findings, const Last& last) {
  if (last.gone) return;  // another row may have taken its place since
  const std::string line =
      "A row of " + last.table + " that journal line " + std::to_string(last.entry) + " changed ";
  Query find(store, "select * from " + last.table + " where " + condition_of(last.key));
  if (!find.next()) {
    findings.add(line + "is not there.");
    return;
  }
  for (const auto& [column, value] : row_of(find)) {
    const auto kept = last.columns.find(column);
    if (kept == last.columns.end() || kept->second == value) continue;
    std::string finding = line;
    finding.append("has another ").append(column).append(" now than that line gave it.");
    findings.add(std::move(finding));
  }
}

}  // namespace

void check_journal(Logbook& logbook, Findings& findings) {
  Store& store = logbook.store();
  check_lines(store, findings);
  Lasts lasts;
  read_ledger(store, findings, lasts);
  for (const auto& [name, last] : lasts) compare(store, findings, last);
}

}  // namespace plumule::logbook
