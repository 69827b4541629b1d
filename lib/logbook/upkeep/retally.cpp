#include "logbook/upkeep/retally.hpp"

#include <algorithm>
#include <optional>
#include <set>

#include "logbook/store/scan.hpp"

namespace plumule::logbook {
namespace {

struct Change {
  std::int64_t line = 0;
  Row before;
  bool taken_out = false;
};
// By table and key (as the ledger writes it), latest change first.
using Ledger = std::map<std::pair<std::string, std::string>, std::vector<Change>>;

Ledger read_ledger(Store& store) {
  Ledger ledger;
  Query find(store,
             "select c.tab, c.key, c.entry, c.before, c.after is null from changes c "
             "join journal j on j.id = c.entry where c.undone = 0 and j.undone_at is null "
             "and c.before is not null order by c.entry desc, c.seq desc");
  while (find.next())
    ledger[{find.text(0), find.text(1)}].push_back(
        {find.integer(2), from_json(find.text(3)), find.integer(4) != 0});
  return ledger;
}

std::int64_t line_of(const Row& row) {
  const Value* const line = column(row, "entry");
  return line && std::holds_alternative<std::int64_t>(*line) ? std::get<std::int64_t>(*line) : 0;
}

Row without(Row row, const TalliedTable& table) {
  if (table.derived >= 0) row.erase(row.begin() + table.derived);
  return row;
}

void put_back(Row& row, const Row& columns) {
  for (const auto& [name, value] : columns)
    for (auto& [own_name, own] : row)
      if (own_name == name) own = value;
}

// Follows a row back through its changes; each line that put it in gets it as it left it.
void tell_lines(const TalliedTable& table, std::optional<Row> row,
                const std::vector<Change>& changes, Tallies& tallies) {
  const auto tell = [&] {
    tallies[line_of(*row)].add(hash_of(table, *row));
    row.reset();
  };
  for (std::size_t i = 0; i < changes.size();) {
    const std::int64_t line = changes[i].line;
    if (row && line_of(*row) >= line) tell();
    bool was = false;  // a row was there before the line's changes
    for (; i < changes.size() && changes[i].line == line; ++i) {
      if (changes[i].taken_out)
        row = changes[i].before;
      else if (row)
        put_back(*row, changes[i].before);
      was = true;
    }
    // What a line put in and took out again left nothing of its own.
    if (was && row && line_of(*row) >= line) row.reset();
  }
  if (row) tell();
}

// The text by which the ledger names a row.
std::string key_text(std::string_view table, const Row& row) { return to_json(key_of(table, row)); }

void tally_changed(Store& store, const std::string& name, const Ledger& ledger, Tallies& tallies) {
  const TalliedTable& table = *tallied(name);
  for (const auto& [where, changes] : ledger) {
    if (where.first != name) continue;
    std::string condition;
    const Row key = from_json(where.second);
    for (const auto& [column, value] : key)
      condition.append(condition.empty() ? "" : " and ").append(column).append(" = ?");
    std::string sql = "select * from ";
    sql.append(name).append(" where ").append(condition);
    Query find(store, sql);
    for (const auto& [column, value] : key)
      find.bind(std::holds_alternative<std::int64_t>(value) ? std::get<std::int64_t>(value) : 0);
    std::optional<Row> row;
    if (find.next()) row = without(row_of(find), table);
    tell_lines(table, std::move(row), changes, tallies);
  }
}

// Rows that nothing changed since they were put in.
void tally_unchanged(Store& store, const std::string& name, const Ledger& ledger,
                     Tallies& tallies) {
  const TalliedTable& table = *tallied(name);
  std::set<std::string> changed;
  for (const auto& [where, changes] : ledger)
    if (where.first == name) changed.insert(where.second);
  RowHash hash;
  Scan rows(store, "select * from " + name);
  while (rows.next()) {
    if (!changed.empty() && changed.count(key_text(name, rows.key(name == "counts" ? 2 : 1))) > 0)
      continue;
    hash.begin(name);
    for (int i = 0; i < rows.columns(); ++i)
      if (i != table.derived) rows.give(i, hash);
    tallies[rows.integer(table.entry)].add(hash.end());
  }
}

void tally_ledger(Store& store, Tallies& tallies) {
  const TalliedTable& table = *tallied("changes");
  RowHash hash;
  Scan rows(store, "select * from changes where undone = 0");
  while (rows.next()) {
    hash.begin(table.name);
    for (int i = 0; i < rows.columns(); ++i) rows.give(i, hash);
    tallies[rows.integer(table.entry)].add(hash.end());
  }
}

void put_lines_in(Store& store, Tallies& tallies) {
  Query lines(store, "select id, at, by, command, summary, day, undone_at is null from journal");
  while (lines.next()) {
    if (lines.integer(6) == 0) {
      tallies.erase(lines.integer(0));
      continue;
    }
    tallies[lines.integer(0)].digest +=
        hash_of_line(lines.text(1), lines.text(2), lines.text(3), lines.text(4), lines.text(5));
  }
}

}  // namespace

Tallies retally(Store& store) {
  Tallies tallies;
  const Ledger ledger = read_ledger(store);
  for (const std::string& table : entry_tables()) {
    tally_unchanged(store, table, ledger, tallies);
    tally_changed(store, table, ledger, tallies);
  }
  tally_ledger(store, tallies);
  put_lines_in(store, tallies);
  return tallies;
}

std::vector<Mistallied> mistallied(Store& store) {
  std::vector<Mistallied> lines;
  const Tallies found = retally(store);
  Query kept(store,
             "select id, command, row_count, digest from journal "
             "where digest is not null and undone_at is null order by id");
  while (kept.next()) {
    const Tally tally{kept.integer(2), static_cast<std::uint64_t>(kept.integer(3))};
    const Tally& now = found.at(kept.integer(0));
    if (!(tally == now)) lines.push_back({kept.integer(0), kept.text(1), tally, now});
  }
  return lines;
}

void accept_tallies(Store& store, const std::vector<Mistallied>& lines, const std::string& at) {
  for (const Mistallied& line : lines)
    Query(store, "update journal set row_count = ?, digest = ?, accepted_at = ? where id = ?",
          line.found.rows, static_cast<std::int64_t>(line.found.digest), at, line.line)
        .run();
}

}  // namespace plumule::logbook
