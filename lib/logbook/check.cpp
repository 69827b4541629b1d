#include <map>

#include "logbook/findings.hpp"
#include "logbook/ledger.hpp"
#include "logbook/migrations.hpp"
#include "logbook/one_moment.hpp"
#include "logbook/store.hpp"
#include "logbook/upkeep.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

void check_structure(Store& store, Findings& findings) {
  Query check(store, "pragma integrity_check(20)");
  while (check.next())
    if (check.text(0) != "ok") findings.add("The file's structure: " + check.text(0) + '.');
}

void check_foreign_keys(Store& store, Findings& findings) {
  Query check(store, "pragma foreign_key_check");
  while (check.next())
    findings.add("A row of " + check.text(0) + " belongs to a row of " + check.text(2) +
                 " that is not there.");
}

using Parts = std::map<std::string, std::string>;

Parts parts_of(Store& store) {
  Parts parts;
  Query find(store,
             "select type || ' ' || name, sql from sqlite_master "
             "where sql is not null and name not like 'sqlite\\_%' escape '\\'");
  while (find.next()) parts[find.text(0)] = find.text(1);
  return parts;
}

// Tables, indexes, guards and views as a fresh logbook has them.
void check_parts(Store& store, Findings& findings) {
  Logbook fresh = Logbook::in_memory();
  const Parts wanted = parts_of(fresh.store());
  const Parts found = parts_of(store);
  for (const auto& [name, sql] : wanted) {
    const auto part = found.find(name);
    if (part == found.end())
      findings.add("The file lacks the " + name + '.');
    else if (part->second != sql)
      findings.add("The " + name + " is not that of a logbook.");
  }
  for (const auto& [name, sql] : found)
    if (wanted.find(name) == wanted.end())
      findings.add("The file has a " + name + ", which no logbook has.");
}

template <class Check>
void guarded(Findings& findings, const char* what, const Check& check) {
  try {
    check();
  } catch (const std::exception& error) {
    findings.add(std::string(what) + " could not be checked to its end: " + error.what());
  }
}

}  // namespace

std::vector<std::string> check(Logbook& logbook) {
  Store& store = logbook.store();
  Findings findings;
  const OneMoment still(store);  // half of what others write would look like damage
  guarded(findings, "The file's structure", [&] { check_structure(store, findings); });
  guarded(findings, "What belongs to what", [&] { check_foreign_keys(store, findings); });
  guarded(findings, "The parts of the file", [&] { check_parts(store, findings); });
  guarded(findings, "The record", [&] { check_record(logbook, findings); });
  guarded(findings, "The journal", [&] { check_journal(logbook, findings); });
  return findings.lines();
}

}  // namespace plumule::logbook
