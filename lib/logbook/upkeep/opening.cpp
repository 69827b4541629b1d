#include "logbook/upkeep/opening.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "logbook/store/one_moment.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/upkeep/copy.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

bool may(const std::string& path, int how) {
  return ::faccessat(AT_FDCWD, path.c_str(), how, AT_EACCESS) == 0;
}

std::string folder_of(const std::string& path) {
  const fs::path folder = fs::path(path).parent_path();
  return folder.empty() ? "." : folder.string();
}

// What stands at the path, as far as the file system tells: whether it may be written, too.
bool look_at(const std::string& path, Access access) {
  struct stat seen = {};
  if (::stat(path.c_str(), &seen) != 0) {
    if (errno == EACCES) throw Unusable(path + " may not be looked at by this user.");
    throw Unusable("There is no logbook at " + path +
                   ". `plumule init` makes one; --log FILE names another.");
  }
  if (S_ISDIR(seen.st_mode))
    throw Unusable(path + " is a folder, not a logbook. Name the file in it with --log FILE.");
  if (!S_ISREG(seen.st_mode)) throw Unusable(path + " is not a logbook: it is no ordinary file.");
  if (seen.st_size == 0)
    throw Unusable(path +
                   " is empty (0 bytes), so it is no logbook. Remove it and make one with "
                   "`plumule init`, or go back to a backup.");
  constexpr auto least_database = 512;  // bytes: SQLite takes a byte or two for an empty database
  if (seen.st_size < least_database) throw Unusable(path + no_logbook);
  if (!may(path, R_OK)) throw Unusable(path + " may not be read by this user.");
  const bool file = may(path, W_OK);
  if (access == Access::write && !file)
    throw Unusable(path + " is read-only, so nothing can be logged in it.");
  const bool folder = file && may(folder_of(path), W_OK);
  if (access == Access::write && !folder)
    throw Unusable(folder_of(path) + " is read-only, so nothing can be logged in " + path +
                   ": writing needs a second file beside it.");
  return folder;
}

void recognise(const std::string& path, const Marks& marks, const Ladder& ladder) {
  if (marks.application != application_id)
    throw Unusable(path +
                   " is a database of another program, not a logbook. --log FILE names the right "
                   "one; plumule init makes a new one.");
  if (marks.version > ladder.version())
    throw Unusable(path + " was written by a newer plumule (its record is of make " +
                   std::to_string(marks.version) + ", this one knows up to " +
                   std::to_string(ladder.version()) + "). Use that one.");
  if (marks.version < 1)
    throw Unusable(path + " is damaged: it says that it was never finished." + to_a_backup);
}

// The rollback journal stays beside the file and is ended by writing over its head: as durable as
// its removal (once the head is synced nothing can take the last count back), and without the two
// changes of the folder that cost most of a commit. One that a large import left is cut short.
// Another program may have left the file in write-ahead mode, in which a copy of the file alone is
// not all of it: this brings it back; where that one is still at work the file stays as it is.
void keep_journal(Store& store) {
  store.database().tryExec("pragma journal_mode = persist; pragma journal_size_limit = 1048576");
}

// Read in one transaction together with the schema, which the first statement after would read:
// each transaction of its own locks the file and looks for a journal left behind.
Marks marks_with_schema(Store& store) {
  const OneMoment moment(store);
  const Marks marks = read_marks(store);
  if (marks.application == application_id) Query(store, "select 1 from journal");
  return marks;
}

void make_folder(const std::string& path) {
  std::error_code trouble;
  fs::create_directories(folder_of(path), trouble);
  if (trouble || !may(folder_of(path), W_OK))
    throw Unusable("No logbook can be made at " + path + ": its folder cannot be made or written.");
}

}  // namespace

std::unique_ptr<Store> create_store(const std::string& path) {
  const std::string stands = path + " exists already, so no logbook was made there.";
  if (path.empty()) throw Unusable("A logbook needs a file name.");
  if (fs::exists(fs::symlink_status(path))) throw Unusable(stands);
  make_folder(path);
  // Made whole under another name: a stop on the way leaves no half-made logbook.
  const std::string part = free_name(path + ".part-" + std::to_string(::getpid()));
  try {
    Store store(part, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    store.run("pragma synchronous = off");
    lay_schema(store, ladder());
  } catch (const Unusable&) {
    std::error_code ignored;
    fs::remove(part, ignored);
    throw Unusable("No logbook can be made at " + path + ": the disk refuses it.");
  }
  if (!take_name(part, path)) {
    std::error_code ignored;
    fs::remove(part, ignored);
    throw Unusable(stands);
  }
  return open_store(path, Access::write, ladder());
}

std::unique_ptr<Store> open_store(const std::string& path, Access access, const Ladder& ladder) {
  const bool can_write = look_at(path, access);
  // Also for reading: only so can what a stopped command left behind be rolled back.
  auto store =
      std::make_unique<Store>(path, can_write ? SQLite::OPEN_READWRITE : SQLite::OPEN_READONLY);
  const Marks marks = marks_with_schema(*store);
  recognise(path, marks, ladder);
  if (marks.version < ladder.version()) {
    if (!can_write)
      throw Unusable(path +
                     " is of an older make and read-only, so it cannot be brought up to "
                     "date. Make it and its folder writable, or copy it to where they are.");
    store->migration_backup = migrate(*store, ladder);
  }
  if (can_write) keep_journal(*store);
  store->writable = access == Access::write;
  return store;
}

}  // namespace plumule::logbook
