// One logbook: a SQLite file, opened, recognised and brought up to date. SQLite is seen by the
// .cpp files of this folder only (store.hpp).
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "records/refused.hpp"

#include "logbook/file/leftover.hpp"

namespace plumule::logbook {

// The file could not be read or written: missing, foreign, damaged, locked, read-only, newer. The
// sentence says which and where, the hints what to do; the file is left as it was.
class Unusable : public records::Hinted {
 public:
  explicit Unusable(const std::string& fact, std::vector<records::Hint> hints = {})
      : Hinted(fact, std::move(hints)) {}
};

// The file may be sound, but what it needs is wanting: told apart from damage.
class Hindered : public Unusable {
 public:
  enum class By { memory, others, full_disk, disk, reading, no_opening, no_temporary };
  Hindered(By by, const std::string& fact, int number = 0)
      : Unusable(fact), by_(by), number_(number) {}
  By by() const noexcept { return by_; }
  int number() const noexcept { return number_; }  // the errno behind it; 0 where none is known

 private:
  By by_;
  int number_;
};

// What was written stands all the same, or may.
class Stands : public Unusable {
 public:
  Stands(bool sure, const Unusable& trouble)
      : Unusable(trouble.what(), trouble.hints()), sure_(sure) {}
  bool sure() const noexcept { return sure_; }

 private:
  bool sure_;
};

enum class Access { read, write };

class Store;    // the open database and its statements; store.hpp
struct Ladder;  // the numbered migrations; migrations.hpp

class Logbook {
 public:
  // A new, empty logbook. Refuses a path where something stands; makes missing folders.
  static Logbook create(const std::string& path);
  // The same, but filled before it bears its name, and not left open: a stop on the way leaves
  // none.
  static Leftovers create_filled(const std::string& path,
                                 const std::function<void(Logbook&)>& fill);
  // An existing one; never makes a file. An older schema is migrated after a verified backup is
  // put beside it (with Access::read too); a newer, foreign or damaged one throws Unusable.
  static Logbook open(const std::string& path, Access access);
  static Logbook open(const std::string& path, Access access, const Ladder& ladder);
  // As it stands, to be looked over: also where pages of it are not as they were written.
  static Logbook open_as_found(const std::string& path);
  // A fresh one in memory, for tests and trials of an import.
  static Logbook in_memory();

  Logbook(Logbook&&) noexcept;
  Logbook& operator=(Logbook&&) noexcept;
  ~Logbook();

  const std::string& path() const;
  // Where the older file lies, if opening put one that is up to date in its place.
  const std::optional<std::string>& migration_backup() const;
  // What opening it found beside it and put out of the way, or copied.
  const Leftovers& leftovers() const;
  // Whether what a stopped command had half written was taken back when it was opened.
  bool rolled_back() const;

  // `kept`, which outlives it, is set true as soon as something that a command wrote is durable.
  void tell_kept(bool& kept);

  Store& store() { return *store_; }

 private:
  explicit Logbook(std::unique_ptr<Store> store);
  std::unique_ptr<Store> store_;
};

}  // namespace plumule::logbook
