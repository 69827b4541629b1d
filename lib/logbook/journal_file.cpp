#include "logbook/journal_file.hpp"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <string>

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

}  // namespace

const char* with_lasting_journal() {
  static sqlite3_vfs layer = [] {
    sqlite3_vfs made = *sqlite3_vfs_find(nullptr);
    made.zName = "lasting-journal";
    made.xOpen = open_file;
    made.pNext = nullptr;
    return made;
  }();
  static const int registered = sqlite3_vfs_register(&layer, 0);
  return registered == SQLITE_OK ? layer.zName : nullptr;
}

}  // namespace plumule::logbook
