#include <cstdlib>
#include <map>
#include <new>
#include <string_view>

#include "logbook/journal/ledger.hpp"
#include "logbook/store/one_moment.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/findings.hpp"
#include "logbook/upkeep/migrations.hpp"
#include "logbook/upkeep/structure.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

void check_structure(Store& store, Findings& findings) {
  // The database's own words name pages and cells; how many there are is what they tell a grower.
  constexpr int most = 20;
  int places = 0;
  std::vector<std::string> tables;  // with a row that the table's own rules refuse
  constexpr std::string_view broken_rule = "CHECK constraint failed in ";
  bool indexes = true;  // nothing but a shortcut that does not agree with its rows
  Query check(store, "pragma integrity_check(" + std::to_string(most) + ")");
  while (check.next()) {
    const std::string said = check.text(0);
    if (said == "ok") continue;
    refuse_if_hindered(store, said);
    if (said.starts_with(broken_rule)) {
      tables.push_back(said.substr(broken_rule.size()));
      continue;
    }
    ++places;
    indexes = indexes && said.find("index") != std::string::npos;
  }
  for (const std::string& table : tables)
    findings.add("A row of the table " + table +
                 " holds what none may: another program wrote it, or it was overwritten.");
  if (places == 0) return;
  findings.add(std::string("The file is damaged in ") +
               (places == 1
                    ? "one place"
                    : (places >= most ? "20 places or more" : std::to_string(places) + " places")) +
               (indexes ? ": a list that finds records by name or date does not agree with them."
                        : ": parts of it are lost or were overwritten (by the disk, or by a copy "
                          "cut short). Records may be missing that no other line here names."));
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

// As a fresh logbook has them: of this make always the same.
const Parts& parts_wanted() {
  static const Parts wanted = [] {
    Logbook fresh = Logbook::in_memory();
    return parts_of(fresh.store());
  }();
  return wanted;
}

// Tables, indexes, guards and views as a fresh logbook has them.
void check_parts(Store& store, Findings& findings) {
  const Parts& wanted = parts_wanted();
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
  } catch (const std::bad_alloc&) {
    throw;  // no memory, or a file that is locked or on a disk that fails, is no damage
  } catch (const Hindered&) {
    throw;
  } catch (const std::exception&) {
    findings.add(std::string(what) + " could not be read to the end, for the damage.");
  }
}

std::string altered_in_words(std::size_t pages) {
  const std::string what =
      pages == 0   ? "A part of the file is not as it was written"
      : pages == 1 ? "One page of the file is not as it was written"
                   : std::to_string(pages) + " pages of the file are not as they were written";
  return what + ": the disk or a copy damaged it, or another program changed it.";
}

}  // namespace

void check_file(Store& store, Findings& findings) {
  guarded(findings, "The file's structure", [&] { check_structure(store, findings); });
  guarded(findings, "What belongs to what", [&] { check_foreign_keys(store, findings); });
  if (read_marks(store).version == ladder().version())  // what an older make had nobody knows
    guarded(findings, "The parts of the file", [&] { check_parts(store, findings); });
}

Checked look_over(Logbook& logbook) {
  Store& store = logbook.store();
  Findings findings;
  const OneMoment still(store);  // half of what others write would look like damage
  check_file(store, findings);
  guarded(findings, "The record", [&] { check_record(logbook, findings); });
  Checked checked;
  checked.rules_hold = findings.none();
  guarded(findings, "The journal", [&] { check_journal(logbook, findings); });
  if (store.half_written())
    findings.add_first(
        "A command was stopped in the midst of writing, and the journal by which the file would be "
        "put right is not beside it any more: a part of what that command wrote may stand. If you "
        "have it still, as where the logbook was copied or moved without it, put " +
        store.path() + "-journal back beside it, and all is put right.");
  if (store.altered() && (store.altered_pages() > 0 || !store.half_written()))
    findings.add_first(altered_in_words(store.altered_pages()));
  checked.wrong = findings.all();
  return checked;
}

}  // namespace plumule::logbook
