#include "logbook/journal/entry.hpp"

#include <chrono>

#include "logbook/journal/tally_watch.hpp"
#include "logbook/store/store.hpp"
#include "logbook/store/utc.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {

struct Entry::State {
  State(Logbook& book, std::string person, std::string words, records::Date day)
      : logbook(book), by(std::move(person)), command(std::move(words)), today(day) {}

  Logbook& logbook;
  std::string by;
  std::string command;
  records::Date today;
  std::optional<WriteTransaction> transaction;
  std::optional<TallyWatch> watch;
  records::Id id = 0;  // 0 until the first row is written
  std::string at;      // of its line
  std::string summary;
  std::int64_t changes_before = 0;
};

Entry::Entry(Logbook& logbook, std::string by, std::string command, records::Date today)
    : state_(std::make_unique<State>(logbook, std::move(by), std::move(command), today)) {
  Store& store = logbook.store();
  if (!store.writable)
    throw Unusable(store.path() + " was opened to be read only; nothing can be logged in it.");
  state_->transaction.emplace(store);
  store.mended();
  state_->changes_before = store.total_changes();
  state_->watch.emplace(store);
}

Entry::~Entry() = default;

records::Id Entry::id() const {
  if (state_->id != 0) return state_->id;
  Store& store = state_->logbook.store();
  state_->at = utc_now();
  Query(store, "insert into journal (at, by, command, summary, day) values (?, ?, ?, '', ?)",
        state_->at, state_->by, state_->command, state_->today)
      .run();
  state_->id = store.database().getLastInsertRowid();
  state_->watch->set_line(state_->id);
  return state_->id;
}

records::Date Entry::today() const { return state_->today; }
const std::string& Entry::by() const { return state_->by; }
const std::string& Entry::command() const { return state_->command; }
Logbook& Entry::logbook() { return state_->logbook; }
void Entry::say(const std::string& summary) { state_->summary = summary; }

void Entry::commit() {
  Store& store = state_->logbook.store();
  if (store.broken())
    throw records::Refused("A part of the command was refused, so the whole of it is.");
  // The journal's own line is one change.
  if (state_->id == 0 || store.total_changes() - state_->changes_before <= 1) {
    state_->transaction.reset();
    return;
  }
  if (state_->watch->failed())
    throw Unusable(store.path() + " could not be written: there is not enough memory.");
  const Tally& tally = state_->watch->tally();
  const std::uint64_t digest =
      tally.digest + hash_of_line(state_->at, state_->by, state_->command, state_->summary,
                                  records::to_text(state_->today));
  Query(store, "update journal set summary = ?, row_count = ?, digest = ? where id = ?",
        state_->summary, tally.rows, static_cast<std::int64_t>(digest), state_->id)
      .run();
  state_->transaction->commit();
}

}  // namespace plumule::logbook
