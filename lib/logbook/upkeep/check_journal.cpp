#include <regex>

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/findings.hpp"
#include "logbook/upkeep/ledger_faults.hpp"
#include "logbook/upkeep/retally.hpp"

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

std::string rows(std::int64_t n) { return n == 1 ? "1 row" : std::to_string(n) + " rows"; }

// Which command's rows are missing, altered or half there.
void check_tallies(Store& store, Findings& findings) {
  for (const Mistallied& line : mistallied(store)) {
    std::string fact = "Journal line " + std::to_string(line.line) + " (" + line.command + ") ";
    const std::int64_t missing = line.kept.rows - line.found.rows;
    if (missing > 0)
      fact += "wrote " + rows(line.kept.rows) + ", of which " +
              (line.found.rows == 0 ? "none is" : rows(missing) + (missing == 1 ? " is" : " are")) +
              (line.found.rows == 0 ? " there any more." : " missing.");
    else if (missing < 0)
      fact +=
          "wrote " + rows(line.kept.rows) + ", but " + rows(line.found.rows) + " stand as its own.";
    else
      fact += "wrote other figures than stand there now: " +
              (line.kept.rows == 1
                   ? std::string("its row, or its line, was altered.")
                   : "some of its " + rows(line.kept.rows) + ", or its line, were altered.");
    findings.add(std::move(fact));
  }
}

}  // namespace

void check_journal(Logbook& logbook, Findings& findings) {
  Store& store = logbook.store();
  check_lines(store, findings);
  for (LedgerFault& fault : ledger_faults(store)) findings.add(std::move(fault.fact));
  check_tallies(store, findings);
}

}  // namespace plumule::logbook
