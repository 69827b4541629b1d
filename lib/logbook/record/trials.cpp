#include "logbook/record/trials.hpp"

#include <algorithm>

#include "logbook/journal/ledger.hpp"
#include "logbook/record/find.hpp"
#include "logbook/store/store.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Refused;
using records::Trial;

constexpr const char* columns = "select id, code, question, closes_on, worth, blind from trials ";

Trial trial_in(Store& store, const Query& row) {
  Trial trial;
  trial.id = row.integer(0);
  trial.code = row.text(1);
  trial.question = row.text(2);
  trial.closes_on = row.maybe_date(3);
  trial.worth = row.maybe_real(4);
  trial.blind = row.integer(5) != 0;
  Query blocks(store, "select name from blocks where trial = ? order by position, id", trial.id);
  while (blocks.next()) trial.blocks.push_back(blocks.text(0));
  Query days(store, "select day from inspections where trial = ? order by day", trial.id);
  while (days.next()) trial.inspections.push_back(days.date(0));
  return trial;
}

void write_blocks(Entry& entry, const Trial& trial, records::Id id) {
  Store& store = entry.logbook().store();
  for (std::size_t i = 0; i < trial.blocks.size(); ++i) {
    const auto position = static_cast<std::int64_t>(i + 1);
    Query find(store, "select id from blocks where trial = ? and name = ?", id, trial.blocks[i]);
    if (find.next()) {
      RowChange change(entry, "blocks", find.integer(0));
      change.set("name", trial.blocks[i]);
      change.set("position", position);
      change.save();
    } else {
      Query(store, "insert into blocks (trial, name, position, entry) values (?, ?, ?, ?)", id,
            trial.blocks[i], position, entry.id())
          .run();
    }
  }
}

void write_days(Entry& entry, const Trial& trial, records::Id id) {
  Store& store = entry.logbook().store();
  for (const records::Date day : trial.inspections) {
    if (Query(store, "select 1 from inspections where trial = ? and day = ?", id, day).next())
      continue;
    Query(store, "insert into inspections (trial, day, entry) values (?, ?, ?)", id, day,
          entry.id())
        .run();
  }
}

using Gone = std::vector<std::pair<std::string, records::Id>>;

// Blocks and days that the trial is to have no more; a block that holds a sowing cannot go.
Gone gone_from(Store& store, const Trial& trial) {
  Gone gone;
  Query blocks(store,
               "select b.id, b.name, (select s.label from sowings s where s.block = b.id limit 1) "
               "from blocks b where b.trial = ?",
               trial.id);
  while (blocks.next()) {
    const std::string name = blocks.text(1);
    if (std::any_of(trial.blocks.begin(), trial.blocks.end(),
                    [&name](const auto& kept) { return records::same_label(kept, name); }))
      continue;
    if (!blocks.null(2))
      throw Refused("Trial " + trial.code + ": block " + name + " holds " + blocks.text(2) +
                    ", so it cannot go.");
    gone.emplace_back("blocks", blocks.integer(0));
  }
  Query days(store, "select id, day from inspections where trial = ?", trial.id);
  while (days.next())
    if (std::find(trial.inspections.begin(), trial.inspections.end(), days.date(1)) ==
        trial.inspections.end())
      gone.emplace_back("inspections", days.integer(0));
  return gone;
}

}  // namespace

records::Id add_trial(Entry& entry, const Trial& trial) {
  check(trial);
  if (const auto found = find_trial(entry.logbook(), trial.code))
    throw Refused("There is a trial " + found->code +
                  " already. A new one needs another code, such as " + found->code + "-2.");
  Store& store = entry.logbook().store();
  Query(store,
        "insert into trials (code, question, closes_on, worth, blind, entry) "
        "values (?, ?, ?, ?, ?, ?)",
        trial.code, or_null(trial.question), trial.closes_on, trial.worth, trial.blind, entry.id())
      .run();
  const records::Id id = store.database().getLastInsertRowid();
  write_blocks(entry, trial, id);
  write_days(entry, trial, id);
  return id;
}

void change_trial(Entry& entry, const Trial& trial) {
  check(trial);
  const auto same = find_trial(entry.logbook(), trial.code);
  if (same && same->id != trial.id) throw Refused("There is a trial " + same->code + " already.");
  const Gone gone = gone_from(entry.logbook().store(), trial);
  RowChange change(entry, "trials", trial.id);
  change.set("code", trial.code);
  change.set("question", or_null(trial.question));
  change.set("closes_on", trial.closes_on);
  change.set("worth", trial.worth);
  change.set("blind", trial.blind);
  change.save();
  for (const auto& [table, row] : gone) take_out(entry, table, row);
  write_blocks(entry, trial, trial.id);
  write_days(entry, trial, trial.id);
}

bool is_blind(Logbook& logbook, const std::string& code) {
  return !code.empty() &&
         Query(logbook.store(), "select 1 from trials where code = ? and blind", code).next();
}

std::optional<Trial> find_trial(Logbook& logbook, const std::string& code) {
  Query find(logbook.store(), std::string(columns) + "where code = ?", code);
  if (!find.next()) return std::nullopt;
  return trial_in(logbook.store(), find);
}

Trial trial_named(Logbook& logbook, const std::string& code) {
  if (auto trial = find_trial(logbook, code)) return *trial;
  std::vector<std::string> known;
  for (const Trial& trial : trials(logbook)) known.push_back(trial.code);
  throw Refused(unknown_name("trial", code, known));
}

std::vector<Trial> trials(Logbook& logbook) {
  std::vector<Trial> all;
  Query find(logbook.store(), columns);
  while (find.next()) all.push_back(trial_in(logbook.store(), find));
  std::sort(all.begin(), all.end(),
            [](const Trial& a, const Trial& b) { return records::label_before(a.code, b.code); });
  return all;
}

}  // namespace plumule::logbook
