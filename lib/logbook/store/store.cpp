#include "logbook/store/store.hpp"

#include <sqlite3.h>

#include <cmath>
#include <thread>
#include <utility>

#include "logbook/file/layer.hpp"
#include "logbook/logbook.hpp"
#include "logbook/record/course_scan.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/utf8.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

// SQLite need not count its memory: it would lock at every piece of it. Refused, and of no matter,
// where the program uses SQLite already.
void settle_library() {
  static const int settled = sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
  (void)settled;
}

// Whether commits outlive a power cut without having to ask for it, which would read the schema.
bool full_by_default() { return sqlite3_compileoption_used("DEFAULT_SYNCHRONOUS=2") != 0; }

SQLite::Database open(const std::string& path, int flags) {
  settle_library();
  try {
    // One thread has one logbook: SQLite need not lock it against others of this process.
    return SQLite::Database(path, flags | SQLite::OPEN_NOMUTEX, 0, file_layer());
  } catch (const SQLite::Exception& error) {
    throw_trouble(error, path);
  }
}

// Labels in the order in which they are listed, A2 before A10: for `order by`, nowhere in the file.
int by_label(void* /*unused*/, int a_size, const void* a, int b_size, const void* b) {
  const std::string_view left(static_cast<const char*>(a), static_cast<std::size_t>(a_size));
  const std::string_view right(static_cast<const char*>(b), static_cast<std::size_t>(b_size));
  if (records::label_before(left, right)) return -1;
  return records::label_before(right, left) ? 1 : 0;
}

int on_busy(void* store, int tries) { return static_cast<Store*>(store)->wait_on(tries) ? 1 : 0; }

}  // namespace

Store::Store(const std::string& path, int flags, Seals seals)
    : path_(path), database_(open(path, flags)) {
  sqlite3_busy_handler(database_.getHandle(), on_busy, this);
  report_.path = path;
  report_.seals = seals;
  report_to(database_.getHandle(), report_);
  if ((flags & SQLite::OPEN_READWRITE) != 0) make_room_for_seals(database_.getHandle());
  int on = 0;
  sqlite3_db_config(database_.getHandle(), SQLITE_DBCONFIG_ENABLE_FKEY, 1, &on);
  if (on != 1) throw Unusable("This SQLite library keeps no foreign keys; a logbook needs them.");
  if (!full_by_default()) run("pragma synchronous = full");
  sqlite3_create_collation(database_.getHandle(), "by_label", SQLITE_UTF8, nullptr, by_label);
  allow_gathering(database_.getHandle(), gathering);
  int trusted = 1;
  sqlite3_db_config(database_.getHandle(), SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, &trusted);
}

void Store::run(const std::string& sql) {
  try {
    database_.exec(sql);
  } catch (const SQLite::Exception& error) {
    refuse(error);
  }
}

// SQLite's own waiting grows to a tenth of a second between looks, and misses the moments between
// two commands of a busy neighbour for seconds on end; this one looks again after a millisecond or
// two, so that many writers get their turns.
bool Store::wait_on(int tries) {
  const auto now = std::chrono::steady_clock::now();
  if (tries == 0) waiting_since_ = now;
  if (now - waiting_since_ >= wait_) return false;
  std::this_thread::sleep_for(std::chrono::microseconds(tries < 50 ? 1000 : 2000));
  return true;
}

std::int64_t Store::total_changes() const { return sqlite3_total_changes64(database_.getHandle()); }

Taken Store::take(const std::string& sql) {
  Statement& rest = idle_[sql];
  if (rest) return {std::move(rest), &rest};
  try {
    return {std::make_unique<SQLite::Statement>(database_, sql), &rest};
  } catch (const SQLite::Exception& error) {
    refuse(error);
  }
}

void Store::give_back(Taken taken) {
  if (!taken.statement) return;
  taken.statement->tryReset();
  taken.statement->clearBindings();
  *taken.rest = std::move(taken.statement);
}

void Store::refuse(int code) { refuse(SQLite::Exception(database_.getHandle(), code)); }

void Store::refuse(const SQLite::Exception& error) {
  if (error.getErrorCode() == SQLITE_CONSTRAINT) broken_ = true;
  if (!report_.refusal.empty())
    throw Unusable(std::exchange(report_.refusal, {}),
                   report_.beyond_repair
                       ? std::vector<records::Hint>{{records::Advice::find_damage, path_}}
                       : std::vector<records::Hint>{});
  if (report_.altered() && report_.seals == Seals::heeded) throw_altered(path_);
  throw_trouble(error, path_, sqlite3_system_errno(database_.getHandle()));
}

WriteTransaction::WriteTransaction(Store& store) try
    : store_(store), transaction_(store.database(), SQLite::TransactionBehavior::IMMEDIATE) {
} catch (const SQLite::Exception& error) {
  store.refuse(error);
}

void WriteTransaction::commit() {
  try {
    transaction_.commit();
    if (store_.kept != nullptr) *store_.kept = true;
  } catch (const SQLite::Exception& error) {
    if (!store_.ending()) store_.refuse(error);
    try {
      store_.refuse(error);
    } catch (const Unusable& trouble) {
      throw Stands(false, trouble);
    }
  }
}

std::optional<std::string> or_null(const std::string& text) {
  if (text.empty()) return std::nullopt;
  return text;
}

Query::~Query() { Store::give_back(std::move(taken_)); }

template <class Value>
void Query::put(const Value& value) {
  try {
    taken_.statement->bind(++bound_, value);
  } catch (const SQLite::Exception& error) {
    store_.refuse(error);
  }
}

void Query::bind(std::nullopt_t) {
  try {
    taken_.statement->bind(++bound_);
  } catch (const SQLite::Exception& error) {
    store_.refuse(error);
  }
}

void Query::bind(std::int64_t value) { put(value); }

void Query::bind(double value) {
  if (!std::isfinite(value)) throw records::Refused("A figure is not a number.");
  put(value);
}

void Query::bind(std::string_view value) {
  if (!is_text(value))
    throw records::Refused("\"" + mended_text(value) +
                           "\" holds characters that are not UTF-8 text.");
  put(std::string(value));
}

bool Query::next() {
  try {
    return taken_.statement->executeStep();
  } catch (const SQLite::Exception& error) {
    store_.refuse(error);
  }
}

void Query::run() {
  while (next()) {
  }
}

void Query::again() {
  taken_.statement->tryReset();
  bound_ = 0;
}

SQLite::Column Query::cell(int column) const { return taken_.statement->getColumn(column); }

int Query::columns() const { return taken_.statement->getColumnCount(); }

std::string Query::name(int column) const { return taken_.statement->getColumnName(column); }

bool Query::null(int column) const { return taken_.statement->isColumnNull(column); }

void Query::damaged(int column) const {
  throw Unusable(store_.path() + " is damaged: " + name(column) + " holds what it cannot.",
                 to_a_backup(store_.path()));
}

std::int64_t Query::integer(int column) const {
  const SQLite::Column found = cell(column);
  if (!found.isInteger()) damaged(column);
  return found.getInt64();
}

double Query::real(int column) const {
  const SQLite::Column found = cell(column);
  if (!found.isFloat() && !found.isInteger()) damaged(column);
  return found.getDouble();
}

std::string_view Query::view(int column) const {
  const SQLite::Column found = cell(column);
  const char* const text = found.getText();  // before its length, which is that of the text
  return {text, static_cast<std::size_t>(found.getBytes())};
}

std::string Query::text(int column) const { return std::string(view(column)); }

records::Date Query::date(int column) const {
  const auto date = records::parse_date(view(column));
  if (!date) damaged(column);
  return *date;
}

std::optional<std::int64_t> Query::maybe_integer(int column) const {
  if (null(column)) return std::nullopt;
  return integer(column);
}

std::optional<double> Query::maybe_real(int column) const {
  if (null(column)) return std::nullopt;
  return real(column);
}

std::optional<records::Date> Query::maybe_date(int column) const {
  if (null(column)) return std::nullopt;
  return date(column);
}

records::Moment Query::moment(int column) const {
  const auto moment = null(column + 1)
                          ? records::parse_moment(view(column))
                          : records::parse_moment(text(column) + 'T' + text(column + 1));
  if (!moment) damaged(column);
  return *moment;
}

std::optional<records::Moment> Query::maybe_moment(int column) const {
  if (null(column)) return std::nullopt;
  return moment(column);
}

std::optional<std::string> time_text(const records::Moment& moment) {
  if (!moment.minute_of_day) return std::nullopt;
  return records::to_text(moment).substr(11);
}

}  // namespace plumule::logbook
