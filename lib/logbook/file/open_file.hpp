// One open logbook file as the layer knows it: its locks, its mark, the transaction under way.
#pragma once

#include <sqlite3.h>

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "logbook/file/journal_head.hpp"
#include "logbook/file/layer.hpp"
#include "logbook/file/mark.hpp"

namespace plumule::logbook {

class OpenFile {
 public:
  // `plain` is the file as the operating system's layer opened it.
  OpenFile(sqlite3_file* plain, std::string path, bool read_only)
      : plain_(plain), path_(std::move(path)), read_only_(read_only) {}

  // SQLite's codes, as its methods of a file return them.
  int lock(int level);
  int unlock(int level);
  int read(void* into, int size, sqlite3_int64 offset);
  int write(const void* from, int size, sqlite3_int64 offset);

  // A transaction begins its journal, whose head this is: the same, stamped; good until the next
  // call of anything here.
  const unsigned char* stamped(const unsigned char* journal_head, int size);

  void report_to(Report* report) { report_ = report; }
  bool marked() const { return marked_; }
  int mark_in_place();

 private:
  // A transaction: the page as it was is written with the mark as it was, any other with the next.
  struct Turn {
    std::uint32_t counter;
    Stamp marks;
  };

  bool read_plain(void* into, int size, sqlite3_int64 offset) const;
  void see(const unsigned char* page);
  const Head& head();  // as it stands; read at most once under a lock
  const unsigned char* with_mark(const Mark& mark, const unsigned char* page, int size);

  bool moved() const;
  bool waited_out();
  int mind_journal();
  int mind_log();
  int set_aside_here(const std::string& end);
  int copy_as_found_here(const std::string& end);
  int refuse(const std::string& sentence);
  void tell(Leftover::What what, const std::string& kept);
  std::string name() const;

  sqlite3_file* plain_;
  std::string path_;
  bool read_only_;
  Report* report_ = nullptr;
  int held_ = SQLITE_LOCK_NONE;
  bool marked_ = false;
  std::optional<Head> head_;
  std::optional<Turn> turn_;
  std::vector<unsigned char> page_;  // where a page is put together before it is written
  bool log_minded_ = false;
  std::optional<std::chrono::steady_clock::time_point> waiting_since_;
};

}  // namespace plumule::logbook
