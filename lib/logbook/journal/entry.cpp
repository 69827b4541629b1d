#include "logbook/journal/entry.hpp"

#include <chrono>

#include "logbook/store/store.hpp"
#include "logbook/store/utc.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {

struct Entry::State {
  Logbook& logbook;
  std::string by;
  std::string command;
  records::Date today;
  records::Id id = 0;  // 0 until the first row is written
  std::string summary;
  std::int64_t changes_before = 0;
  bool open = true;
};

Entry::Entry(Logbook& logbook, std::string by, std::string command, records::Date today)
    : state_(std::make_unique<State>(
          State{logbook, std::move(by), std::move(command), today, 0, {}, 0, true})) {
  Store& store = logbook.store();
  if (!store.writable)
    throw Unusable(store.path() + " was opened to be read only; nothing can be logged in it.");
  store.run("begin immediate");
  store.mended();
  state_->changes_before = store.total_changes();
}

Entry::~Entry() {
  if (state_->open) state_->logbook.store().database().tryExec("rollback");
}

records::Id Entry::id() const {
  if (state_->id != 0) return state_->id;
  Store& store = state_->logbook.store();
  Query(store, "insert into journal (at, by, command, summary, day) values (?, ?, ?, '', ?)",
        utc_now(), state_->by, state_->command, state_->today)
      .run();
  state_->id = store.database().getLastInsertRowid();
  return state_->id;
}

records::Date Entry::today() const { return state_->today; }
const std::string& Entry::by() const { return state_->by; }
Logbook& Entry::logbook() { return state_->logbook; }
void Entry::say(const std::string& summary) { state_->summary = summary; }

void Entry::commit() {
  Store& store = state_->logbook.store();
  if (store.broken())
    throw records::Refused("A part of the command was refused, so the whole of it is.");
  // The journal's own line is one change.
  if (state_->id == 0 || store.total_changes() - state_->changes_before <= 1) {
    state_->open = false;
    store.run("rollback");
    return;
  }
  if (!state_->summary.empty())
    Query(store, "update journal set summary = ? where id = ?", state_->summary, state_->id).run();
  store.run("commit");
  state_->open = false;
}

}  // namespace plumule::logbook
