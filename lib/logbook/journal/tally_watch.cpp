// SQLite's pre-update hook (https://www.sqlite.org/c3ref/preupdate_blobwrite.html) tells of each
// row before it is written, with its old and new values; Debian's SQLite is built with it.
#include "logbook/journal/tally_watch.hpp"

#define SQLITE_ENABLE_PREUPDATE_HOOK
#include <sqlite3.h>

#include <exception>

namespace plumule::logbook {

struct TallyWatch::State {
  Tally tally;
  std::int64_t line = 0;
  bool failed = false;
  RowHash hash;
  const char* name = nullptr;  // of the table seen last, as SQLite holds it
  const TalliedTable* table = nullptr;
};

namespace {

using Ask = int (*)(sqlite3*, int, sqlite3_value**);

void add(RowHash& hash, sqlite3_value* value) {
  switch (sqlite3_value_type(value)) {
    case SQLITE_INTEGER:
      return hash.add(std::int64_t{sqlite3_value_int64(value)});
    case SQLITE_FLOAT:
      return hash.add(sqlite3_value_double(value));
    case SQLITE_TEXT: {
      const auto* const text = reinterpret_cast<const char*>(sqlite3_value_text(value));
      return hash.add(std::string_view(text, static_cast<std::size_t>(sqlite3_value_bytes(value))));
    }
    default:
      return hash.skip();
  }
}

// The row's hash where it is of the line; false where SQLite gives no values.
template <class Found>
bool with_row(sqlite3* database, const TalliedTable& table, std::int64_t line, RowHash& hash,
              Ask ask, const Found& found) {
  sqlite3_value* value = nullptr;
  if (ask(database, table.entry, &value) != SQLITE_OK) return false;
  if (sqlite3_value_int64(value) != line) return true;
  hash.begin(table.name);
  const int columns = sqlite3_preupdate_count(database);
  for (int i = 0; i < columns; ++i) {
    if (i == table.derived) continue;
    if (ask(database, i, &value) != SQLITE_OK) return false;
    add(hash, value);
  }
  found(hash.end());
  return true;
}

}  // namespace

TallyWatch::TallyWatch(Store& store) : store_(store), state_(std::make_unique<State>()) {
  store_.watch = this;
  look_again();
}

void TallyWatch::look_again() {
  sqlite3_preupdate_hook(
      store_.database().getHandle(),
      [](void* held, sqlite3* database, int what, const char*, const char* table, sqlite3_int64,
         sqlite3_int64) {
        State& state = *static_cast<State*>(held);
        try {
          if (table != state.name) {
            state.name = table;
            state.table = tallied(table);
          }
          if (state.table == nullptr || state.line == 0) return;
          const auto take = [&state](std::uint64_t row) { state.tally.take(row); };
          const auto put = [&state](std::uint64_t row) { state.tally.add(row); };
          if (what != SQLITE_INSERT && !with_row(database, *state.table, state.line, state.hash,
                                                 sqlite3_preupdate_old, take))
            state.failed = true;
          if (what != SQLITE_DELETE &&
              !with_row(database, *state.table, state.line, state.hash, sqlite3_preupdate_new, put))
            state.failed = true;
        } catch (const std::exception&) {
          state.failed = true;  // nothing may be thrown through SQLite
        }
      },
      state_.get());
}

void TallyWatch::look_away() {
  sqlite3_preupdate_hook(store_.database().getHandle(), nullptr, nullptr);
}

TallyWatch::~TallyWatch() {
  look_away();
  store_.watch = nullptr;
}

void TallyWatch::told(std::uint64_t row) { state_->tally.add(row); }

void TallyWatch::set_line(std::int64_t line) { state_->line = line; }
const Tally& TallyWatch::tally() const { return state_->tally; }
bool TallyWatch::failed() const { return state_->failed; }

}  // namespace plumule::logbook
