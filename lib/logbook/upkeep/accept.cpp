#include "logbook/upkeep/accept.hpp"

#include "logbook/file/part.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/store.hpp"
#include "logbook/store/utc.hpp"
#include "logbook/upkeep/copy.hpp"
#include "logbook/upkeep/findings.hpp"
#include "logbook/upkeep/ledger_faults.hpp"
#include "logbook/upkeep/migrations.hpp"
#include "logbook/upkeep/opening.hpp"
#include "logbook/upkeep/retally.hpp"
#include "logbook/upkeep/stand_in.hpp"

namespace plumule::logbook {
namespace {

void refuse_broken(Logbook& found) {
  Findings findings;
  check_file(found.store(), findings);
  check_record(found, findings);
  const std::vector<records::Refusal> wrong = findings.all();
  if (wrong.empty()) return;
  throw Unusable(
      found.path() + " cannot be taken as it is: " + wrong.front().fact + " All is as it was.",
      to_a_backup(found.path()));
}

}  // namespace

Accepted accept(const std::string& path) {
  Logbook found = Logbook::open_as_found(path);
  Store& store = found.store();
  Accepted accepted;
  const auto writers_off = open_as_it_is(path, Access::write, ladder(), Seals::noted);
  const WriteTransaction alone(*writers_off.store);
  refuse_broken(found);
  const std::vector<Mistallied> lines = mistallied(store);
  for (const Mistallied& line : lines) accepted.commands.push_back(line.command);
  accepted.leftovers = found.leftovers();
  const LedgerFaults faults = ledger_faults(store);
  if (!store.altered() && lines.empty() && faults.empty()) return accepted;
  const std::string place = place_of(path);
  const Part part(place, mode_of_copy(place));
  fill_part(store, part, place);
  change_part(part, [&](Store& copy) {
    copy.run("pragma foreign_keys = off; begin");
    const Marks marks = read_marks(copy);
    if (marks.version < ladder().version()) climb(copy, ladder(), marks.version);
    accept_tallies(copy, lines, utc_now());
    for (const LedgerFault& fault : faults)
      Query(copy, "update journal set accepted_at = ? where id = ?", utc_now(), fault.line).run();
    copy.run("commit");
  });
  accepted.former = take_place(part.path(), place, place + ".before-accept");
  return accepted;
}

}  // namespace plumule::logbook
