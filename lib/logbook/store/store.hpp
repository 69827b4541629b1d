// The open database and its prepared statements: the only door to SQLite. Every trouble of the
// database leaves here as Unusable or Refused, in words; no SQLite exception passes.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <chrono>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>

#include "logbook/file/layer.hpp"
#include "logbook/file/mark.hpp"
#include "logbook/store/gathering.hpp"
#include "records/date.hpp"

namespace plumule::logbook {

// How long a locked file is waited for.
inline constexpr std::chrono::milliseconds busy_wait{5000};

class TallyWatch;  // journal/tally_watch.hpp

using Statement = std::unique_ptr<SQLite::Statement>;
// A statement in use, and where it rests when it is not.
struct Taken {
  Statement statement;
  Statement* rest = nullptr;
};

class Store {
 public:
  // Opens with SQLite's flags and settles the connection: foreign keys on (read back), commits that
  // outlive a power cut, no trust in the file's own functions. Reads nothing of the file yet.
  // A new file gets room for seals.
  Store(const std::string& path, int flags, Seals seals = Seals::heeded);
  Store(const Store&) = delete;  // SQLite holds its address
  Store& operator=(const Store&) = delete;

  SQLite::Database& database() { return database_; }
  const std::string& path() const { return path_; }
  // One or several statements that give no rows.
  void run(const std::string& sql);
  std::int64_t total_changes() const;
  // For tests: another wait than five seconds.
  void wait_at_most(std::chrono::milliseconds wait) { wait_ = wait; }

  // A prepared statement, kept for the next use; given back by Query.
  Taken take(const std::string& sql);
  static void give_back(Taken taken);

  // What an error of the database says to a grower; always throws.
  [[noreturn]] void refuse(const SQLite::Exception& error);
  [[noreturn]] void refuse(int code);
  // Called by SQLite while the file is locked; false once it has been waited for long enough.
  bool wait_on(int tries);
  // The file's own rules refused a row since the last `mended`: the entry must not be committed.
  bool broken() const { return broken_; }
  void mended() { broken_ = false; }

  std::optional<std::string> migration_backup;
  // Pages that are not as they were written were come upon.
  bool altered() const { return report_.altered(); }
  std::size_t altered_pages() const { return report_.unsealed.size(); }
  // What was found beside the file while it was open, or beside a copy of it that was made.
  Leftovers& leftovers() { return report_.leftovers; }
  bool rolled_back() const { return report_.rolled_back; }
  // A stopped command left the file half written, and what would put it right is lost.
  bool half_written() const { return report_.half_written; }
  // A commit that failed may stand: it failed in its very last step.
  bool ending() const { return report_.ending; }
  bool writable = false;
  bool* kept = nullptr;         // set true by each WriteTransaction that was committed
  Gathering gathering;          // of the CourseScan that is at work
  TallyWatch* watch = nullptr;  // of the entry that is under way

 private:
  std::string path_;
  Report report_;  // outlives the database, which holds its address
  SQLite::Database database_;
  std::unordered_map<std::string, Statement> idle_;
  bool broken_ = false;
  std::chrono::milliseconds wait_ = busy_wait;
  std::chrono::steady_clock::time_point waiting_since_;
};

// An empty text is stored as NULL.
std::optional<std::string> or_null(const std::string& text);

// Everything until the end of its life is one transaction that writes: begun at once, so that it
// waits for other writers before anything is read, and rolled back unless it was committed.
class WriteTransaction {
 public:
  explicit WriteTransaction(Store& store);  // Unusable where the file stays locked
  void commit();  // durable once this returns; Stands where it failed and may stand

 private:
  Store& store_;
  SQLite::Transaction transaction_;
};

// One run of a statement: bound on construction, given back on destruction.
//   Query find(store, "select id from lots where code = ?", code);
//   if (find.next()) return find.integer(0);
class Query {
 public:
  template <class... Values>
  Query(Store& store, const std::string& sql, const Values&... values)
      : store_(store), taken_(store.take(sql)) {
    (bind(values), ...);
  }
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  ~Query();

  // Further values, in order. NaN and infinity are Refused, as is text that is not UTF-8.
  void bind(std::nullopt_t);
  void bind(std::int64_t value);
  void bind(int value) { bind(std::int64_t{value}); }
  void bind(bool value) { bind(std::int64_t{value}); }
  void bind(double value);
  void bind(std::string_view value);
  void bind(const std::string& value) { bind(std::string_view(value)); }
  void bind(const char* value) { bind(std::string_view(value)); }
  void bind(records::Date value) { bind(std::string_view(records::to_text(value))); }
  template <class Value>
  void bind(const std::optional<Value>& value) {
    if (value)
      bind(*value);
    else
      bind(std::nullopt);
  }

  bool next();   // steps to the next row
  void run();    // steps to the end, for what gives no rows
  void again();  // back to the start, with values to be bound anew

  bool null(int column) const;
  std::int64_t integer(int column) const;  // Unusable where it is none: the file is damaged
  double real(int column) const;
  std::string text(int column) const;       // empty for NULL
  std::string_view view(int column) const;  // the same, until the next row
  records::Date date(int column) const;
  std::optional<std::int64_t> maybe_integer(int column) const;
  std::optional<double> maybe_real(int column) const;
  std::optional<records::Date> maybe_date(int column) const;
  // A day and, in the next column, its time of day or NULL.
  records::Moment moment(int column) const;
  std::optional<records::Moment> maybe_moment(int column) const;
  int columns() const;
  std::string name(int column) const;
  SQLite::Column cell(int column) const;  // of any type; until the next row

 private:
  template <class Value>
  void put(const Value& value);
  [[noreturn]] void damaged(int column) const;

  Store& store_;
  Taken taken_;
  int bound_ = 0;
};

// "07:30", or none where no time of day is known.
std::optional<std::string> time_text(const records::Moment& moment);

}  // namespace plumule::logbook
