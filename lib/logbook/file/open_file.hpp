// One open logbook file as the layer knows it: its locks, its mark, its seals, the transaction
// under way.
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
  OpenFile(sqlite3_file* plain, std::string path, bool read_only);

  // SQLite's codes, as its methods of a file return them.
  int lock(int level);
  int unlock(int level);
  int read(void* into, int size, sqlite3_int64 offset);
  // Where the file has seals, a page gets its own in SQLite's copy of it too: what SQLite keeps of
  // a page, and puts in a later journal, is what stands in the file.
  int write(const void* from, int size, sqlite3_int64 offset);

  // A transaction begins its journal, whose head this is: the same, stamped; good until the next
  // call of anything here.
  const unsigned char* stamped(const unsigned char* journal_head, int size);

  // SQLite is about to end the journal.
  void journal_ends();

  void report_to(Report* report) { report_ = report; }
  bool marked() const { return marked_; }
  int mark_in_place();

 private:
  // A transaction: the page as it was is written with the mark as it was, any other with the next.
  struct Turn {
    std::uint32_t counter;
    Stamp marks;
    std::int64_t size;       // of the file as the transaction found it, in bytes
    bool announces = false;  // a file that was there, and sealed, is to say that it is in the midst
    bool announced = false;  // it says so
  };

  bool read_plain(void* into, int size, sqlite3_int64 offset) const;
  void see(const unsigned char* page);
  const Head& head();  // as it stands; read at most once under a lock
  Mark mark_to_write(const unsigned char* page);
  int write_first(unsigned char* page, int size);
  int announce();
  void conclude();
  int write_midst(unsigned char bit);
  bool is_half_written();

  // Whether the page just read is as it was written, or may be read all the same.
  bool heed_seal(const unsigned char* page, int size, sqlite3_int64 offset);
  bool never_written(const unsigned char* page, int size, sqlite3_int64 offset) const;
  bool stopped_by_seal() const;

  bool moved() const;
  bool waited_out();
  int mind_journal();
  int mind_log();
  bool grows_by(const Journal& journal) const;
  int refuse_journal();
  int set_aside_here(const std::string& end, Leftover::What why = Leftover::What::set_aside);
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
  // A new file, whose first page is not written yet: that its pages get seals is taken for granted.
  bool fresh_ = false;
  bool sealed_unasked_ = false;
  Mark fresh_mark_;                  // of a new file
  bool half_written_asked_ = false;  // under the present lock
  std::optional<Head> head_;
  std::optional<Turn> turn_;
  std::vector<unsigned char> page_;  // where a journal's head is put together
  bool log_minded_ = false;
  std::optional<std::chrono::steady_clock::time_point> waiting_since_;
};

}  // namespace plumule::logbook
