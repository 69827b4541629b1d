#include "logbook/store/store.hpp"

#include <sqlite3.h>

#include <cmath>
#include <thread>

#include "logbook/logbook.hpp"
#include "logbook/record/course_scan.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/utf8.hpp"
#include "logbook/upkeep/journal_file.hpp"
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
    return SQLite::Database(path, flags | SQLite::OPEN_NOMUTEX, 0, with_lasting_journal());
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

Store::Store(const std::string& path, int flags) : path_(path), database_(open(path, flags)) {
  sqlite3_busy_handler(database_.getHandle(), on_busy, this);
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

void FinalizeStatement::operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }

Taken Store::take(const std::string& sql) {
  Statement& rest = idle_[sql];
  if (rest) return {std::move(rest), &rest};
  sqlite3_stmt* statement = nullptr;
  const int code = sqlite3_prepare_v2(database_.getHandle(), sql.c_str(), -1, &statement, nullptr);
  Taken taken{Statement(statement), &rest};
  if (code != SQLITE_OK) refuse(code);
  return taken;
}

void Store::give_back(Taken taken) {
  if (!taken.statement) return;
  sqlite3_reset(taken.statement.get());
  sqlite3_clear_bindings(taken.statement.get());
  *taken.rest = std::move(taken.statement);
}

void Store::refuse(int code) { refuse(SQLite::Exception(database_.getHandle(), code)); }

void Store::refuse(const SQLite::Exception& error) {
  if (error.getErrorCode() == SQLITE_CONSTRAINT) broken_ = true;
  throw_trouble(error, path_);
}

std::optional<std::string> or_null(const std::string& text) {
  if (text.empty()) return std::nullopt;
  return text;
}

Query::~Query() { Store::give_back(std::move(taken_)); }

void Query::bound(int code) {
  if (code != SQLITE_OK) store_.refuse(code);
}

void Query::bind(std::nullopt_t) { bound(sqlite3_bind_null(statement(), ++bound_)); }

void Query::bind(std::int64_t value) { bound(sqlite3_bind_int64(statement(), ++bound_, value)); }

void Query::bind(double value) {
  if (!std::isfinite(value)) throw records::Refused("A figure is not a number.");
  bound(sqlite3_bind_double(statement(), ++bound_, value));
}

void Query::bind(std::string_view value) {
  if (!is_text(value))
    throw records::Refused("\"" + mended_text(value) +
                           "\" holds characters that are not UTF-8 text.");
  // An empty view may point nowhere, which would be NULL.
  bound(sqlite3_bind_text64(statement(), ++bound_, value.empty() ? "" : value.data(), value.size(),
                            SQLITE_TRANSIENT, SQLITE_UTF8));
}

bool Query::next() {
  const int code = sqlite3_step(statement());
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) store_.refuse(code);
  return false;
}

void Query::run() {
  while (next()) {
  }
}

void Query::again() {
  sqlite3_reset(statement());
  bound_ = 0;
}

bool Query::null(int column) const {
  return sqlite3_column_type(statement(), column) == SQLITE_NULL;
}

void Query::damaged(int column) const {
  throw Unusable(store_.path() + " is damaged: " + sqlite3_column_name(statement(), column) +
                 " holds what it cannot." + to_a_backup);
}

std::int64_t Query::integer(int column) const {
  if (sqlite3_column_type(statement(), column) != SQLITE_INTEGER) damaged(column);
  return sqlite3_column_int64(statement(), column);
}

double Query::real(int column) const {
  const int type = sqlite3_column_type(statement(), column);
  if (type != SQLITE_FLOAT && type != SQLITE_INTEGER) damaged(column);
  return sqlite3_column_double(statement(), column);
}

std::string_view Query::view(int column) const {
  const unsigned char* const text = sqlite3_column_text(statement(), column);
  if (text == nullptr) return {};
  return {reinterpret_cast<const char*>(text),
          static_cast<std::size_t>(sqlite3_column_bytes(statement(), column))};
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
