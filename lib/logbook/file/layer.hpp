// The layer between SQLite and the operating system, through which every logbook is opened: it sees
// each lock and each write of the file and of its journal.
//
//  - A stranger's journal is never rolled back. SQLite takes any journal beside a file for that
//    file's own; here one is looked at (journal_head.hpp) under SQLite's own exclusive lock, before
//    it opens it, and is set aside or copied (leftover.hpp) where it is not clearly the file's.
//  - The file's mark (mark.hpp) stays, and tells the state of the file: pages written without it,
//    as a rebuild of the file does, get it back; each transaction stamps its journal.
//  - Each page is sealed (seal.hpp) as it is written, and read only with its seal unbroken. A file
//    says of itself that it is in the midst of being written (mark.hpp).
//  - The folder is synced once, when the journal is made, and not at each commit: the journal
//    stays. That leaves four syncs of five to a commit: the journal, its head, the logbook, and the
//    head that ends it.
#pragma once

#include <cstdint>
#include <set>
#include <string>

#include "logbook/file/leftover.hpp"

struct sqlite3;

namespace plumule::logbook {

// Its name, for opening a database.
const char* file_layer();

// From now on of the open database: what is made by it (itself, where it is new; a copy of it) has
// room for seals. Before anything is written to it.
bool make_room_for_seals(sqlite3* database);

// What becomes of a page whose seal is broken: nothing more is read, or it is noted and read all
// the same, for whoever is to find out what is wrong.
enum class Seals { heeded, noted };

// What the layer found while a logbook was open, and why it refused to go on, where it did.
struct Report {
  std::string path;  // as the caller names it
  Leftovers leftovers;
  std::string refusal;
  bool beyond_repair = false;  // refused for damage: it is to be looked over
  Seals seals = Seals::heeded;
  std::set<std::uint32_t> unsealed;  // numbers of the pages that are not as they were written
  bool foreign_log = false;          // another program's write-ahead log holds some of them
  bool half_written = false;  // by a stopped command, whose journal is lost or of another file
  bool ending = false;        // SQLite was to end the journal of the commit under way: it may stand

  bool altered() const { return foreign_log || half_written || !unsealed.empty(); }
  bool rolled_back = false;  // what a stopped command had half written was taken back
};
// From now on of the open database; `report` must outlive it.
void report_to(sqlite3* database, Report& report);

// Of the file as it was seen last under a lock.
bool is_marked(sqlite3* database);  // true also of one that is no file
// Within an exclusive transaction that has written nothing: marks a file of before, in place.
//
// As safe as a marked copy put in its place, and without its hazards (a second whole file, the old
// one still open elsewhere): one write of 72 bytes within the first sector of page 1, of which all
// but the mark and the change counter stand there already, so that however it is cut short every
// other byte is as it was. The counter moves so that whoever has the page in memory reads it anew.
bool mark_in_place(sqlite3* database);

}  // namespace plumule::logbook
