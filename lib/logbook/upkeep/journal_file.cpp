#include "logbook/upkeep/journal_file.hpp"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <string>
#include <string_view>

namespace plumule::logbook {
namespace {

bool holds_anything(const char* path) {
  struct stat seen = {};
  return ::stat(path, &seen) == 0 && seen.st_size > 0;
}

bool sync_folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  const std::string folder = slash == std::string::npos ? "." : path.substr(0, slash + 1);
  const int open = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (open < 0) return true;  // as SQLite has it: not every file system opens its folders
  const bool synced = ::fsync(open) == 0;
  ::close(open);
  return synced;
}

int open_file(sqlite3_vfs* /*unused*/, const char* path, sqlite3_file* file, int flags, int* out) {
  sqlite3_vfs* const plain = sqlite3_vfs_find(nullptr);
  const bool journal = (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0 && path != nullptr;
  if (!journal || (flags & SQLITE_OPEN_CREATE) == 0)
    return plain->xOpen(plain, path, file, flags, out);
  if (holds_anything(path) &&
      plain->xOpen(plain, path, file, flags & ~SQLITE_OPEN_CREATE, out) == SQLITE_OK)
    return SQLITE_OK;
  const int code = plain->xOpen(plain, path, file, flags, out);
  if (code != SQLITE_OK || sync_folder_of(path)) return code;
  file->pMethods->xClose(file);
  file->pMethods = nullptr;
  return SQLITE_IOERR_DIR_FSYNC;
}

// Whether the journal's head is zeroed: its commit ended, and nothing is to be rolled back.
bool is_ended(const char* path) {
  const int journal = ::open(path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
  if (journal < 0) return false;
  char head = 1;
  const bool ended = ::pread(journal, &head, 1, 0) == 1 && head == 0;
  ::close(journal);
  return ended;
}

// SQLite asks for the journal when it has locked the file to read; told that there is one, it looks
// for a writer at work, the size of the file, and whether the journal's first byte is zero, in
// which case it goes on as if there were none. That byte first saves it half of a transaction.
int look_for(sqlite3_vfs* /*unused*/, const char* path, int flags, int* out) {
  sqlite3_vfs* const plain = sqlite3_vfs_find(nullptr);
  if (flags == SQLITE_ACCESS_EXISTS && std::string_view(path).ends_with("-journal") &&
      is_ended(path)) {
    *out = 0;
    return SQLITE_OK;
  }
  return plain->xAccess(plain, path, flags, out);
}

}  // namespace

const char* with_lasting_journal() {
  static sqlite3_vfs layer = [] {
    sqlite3_vfs made = *sqlite3_vfs_find(nullptr);
    made.zName = "lasting-journal";
    made.xOpen = open_file;
    made.xAccess = look_for;
    made.pNext = nullptr;
    return made;
  }();
  static const int registered = sqlite3_vfs_register(&layer, 0);
  return registered == SQLITE_OK ? layer.zName : nullptr;
}

}  // namespace plumule::logbook
