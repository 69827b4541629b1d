#include "logbook/snapshot.hpp"

#include <vector>

#include "logbook/store/store.hpp"

namespace plumule::tests {
namespace {

std::string dump(logbook::Logbook& logbook, const std::string& but) {
  logbook::Store& store = logbook.store();
  std::vector<std::string> tables;
  {
    logbook::Query find(
        store, "select name from sqlite_master where type = 'table' " + but + " order by name");
    while (find.next()) tables.push_back(find.text(0));
  }
  std::string text;
  for (const std::string& table : tables) {
    std::string columns;
    {
      // Not the digest, in which the time of day is: the same command has another one each time.
      logbook::Query find(
          store, "select name from pragma_table_info(?) where name <> 'digest' order by cid",
          table);
      while (find.next()) {
        if (!columns.empty()) columns += " || ',' || ";
        columns.append("quote(\"").append(find.text(0)).append("\")");
      }
    }
    std::string sql = "select ";
    sql.append(columns).append(" from ").append(table).append(" order by 1");
    logbook::Query rows(store, sql);
    while (rows.next()) text.append(table).append(": ").append(rows.text(0)).append("\n");
  }
  return text;
}

}  // namespace

std::string record_of(logbook::Logbook& logbook) {
  return dump(logbook, "and name not in ('journal', 'changes')");
}

std::string all_of(logbook::Logbook& logbook) { return dump(logbook, ""); }

}  // namespace plumule::tests
