// The methods of SQLite's file system layer (https://www.sqlite.org/vfs.html, "shims"): all but a
// few pass a call on to the operating system's own layer, which opened the file.
#include "logbook/file/layer.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <new>
#include <string_view>

#include "logbook/file/descriptor.hpp"
#include "logbook/file/disk.hpp"
#include "logbook/file/open_file.hpp"
#include "logbook/file/seal.hpp"
#include "logbook/file/temporary.hpp"

namespace plumule::logbook {
namespace {

// Ours to ask of an open logbook (SQLite leaves the numbers above 100 to its users).
enum Ask { ask_report = 0x506C01, ask_marked = 0x506C02, ask_mark = 0x506C03 };

// What SQLite gives room for: ours, and after it the file of the layer below.
struct Shell : sqlite3_file {
  OpenFile* logbook;  // of a journal: the logbook whose journal it is
};
constexpr int shell_size = (sizeof(Shell) + 15) / 16 * 16;

sqlite3_vfs* below() { return sqlite3_vfs_find(nullptr); }

Shell* shell_of(sqlite3_file* file) { return static_cast<Shell*>(file); }

sqlite3_file* plain_in(sqlite3_file* file) {
  return reinterpret_cast<sqlite3_file*>(reinterpret_cast<char*>(file) + shell_size);
}

OpenFile& logbook_of(sqlite3_file* file) { return *shell_of(file)->logbook; }

// Passed on as they come.

int close(sqlite3_file* file) { return plain_in(file)->pMethods->xClose(plain_in(file)); }
int read(sqlite3_file* file, void* into, int size, sqlite3_int64 offset) {
  const int code = plain_in(file)->pMethods->xRead(plain_in(file), into, size, offset);
  return code == SQLITE_IOERR_CORRUPTFS ? SQLITE_IOERR_READ : code;  // a disk that fails, no more
}
int cut(sqlite3_file* file, sqlite3_int64 size) {
  return plain_in(file)->pMethods->xTruncate(plain_in(file), size);
}
int sync(sqlite3_file* file, int how) {
  return plain_in(file)->pMethods->xSync(plain_in(file), how);
}
int tell_size(sqlite3_file* file, sqlite3_int64* size) {
  return plain_in(file)->pMethods->xFileSize(plain_in(file), size);
}
int lock(sqlite3_file* file, int level) {
  return plain_in(file)->pMethods->xLock(plain_in(file), level);
}
int unlock(sqlite3_file* file, int level) {
  return plain_in(file)->pMethods->xUnlock(plain_in(file), level);
}
int is_reserved(sqlite3_file* file, int* out) {
  return plain_in(file)->pMethods->xCheckReservedLock(plain_in(file), out);
}
int control(sqlite3_file* file, int ask, void* argument) {
  return plain_in(file)->pMethods->xFileControl(plain_in(file), ask, argument);
}
int sector(sqlite3_file* file) { return plain_in(file)->pMethods->xSectorSize(plain_in(file)); }
int traits(sqlite3_file* file) {
  return plain_in(file)->pMethods->xDeviceCharacteristics(plain_in(file));
}
int map_shared(sqlite3_file* file, int page, int size, int extend, void volatile** out) {
  return plain_in(file)->pMethods->xShmMap(plain_in(file), page, size, extend, out);
}
int lock_shared(sqlite3_file* file, int offset, int count, int flags) {
  return plain_in(file)->pMethods->xShmLock(plain_in(file), offset, count, flags);
}
void barrier(sqlite3_file* file) { plain_in(file)->pMethods->xShmBarrier(plain_in(file)); }
int unmap_shared(sqlite3_file* file, int remove) {
  return plain_in(file)->pMethods->xShmUnmap(plain_in(file), remove);
}

// Of a logbook's own file.

int close_logbook(sqlite3_file* file) {
  delete shell_of(file)->logbook;
  shell_of(file)->logbook = nullptr;
  return close(file);
}

// Nothing may be thrown through SQLite: there is no memory, or the disk told something odd.
template <class Act>
int guarded(const Act& act) {
  try {
    return act();
  } catch (const std::bad_alloc&) {
    return SQLITE_NOMEM;
  } catch (const std::exception&) {
    return SQLITE_IOERR;
  }
}

int read_logbook(sqlite3_file* file, void* into, int size, sqlite3_int64 offset) {
  return guarded([&] { return logbook_of(file).read(into, size, offset); });
}
int write_logbook(sqlite3_file* file, const void* from, int size, sqlite3_int64 offset) {
  return guarded([&] { return logbook_of(file).write(from, size, offset); });
}
int lock_logbook(sqlite3_file* file, int level) {
  return guarded([&] { return logbook_of(file).lock(level); });
}
int unlock_logbook(sqlite3_file* file, int level) { return logbook_of(file).unlock(level); }
int control_logbook(sqlite3_file* file, int ask, void* argument) {
  switch (ask) {
    case ask_report:
      logbook_of(file).report_to(static_cast<Report*>(argument));
      return SQLITE_OK;
    case ask_marked:
      *static_cast<bool*>(argument) = logbook_of(file).marked();
      return SQLITE_OK;
    case ask_mark:
      return logbook_of(file).mark_in_place();
    default:
      return control(file, ask, argument);
  }
}

// Of its journal.

int write_journal(sqlite3_file* file, const void* from, int size, sqlite3_int64 offset) {
  sqlite3_file* const plain = plain_in(file);
  // Zeros over the head: with them a commit stands.
  if (offset == 0 && size > 0 && *static_cast<const unsigned char*>(from) == 0)
    logbook_of(file).journal_ends();
  // The whole sector of the head; what is written over its first bytes later is shorter.
  if (offset != 0 || size < stamp_at + stamp_size)
    return plain->pMethods->xWrite(plain, from, size, offset);
  return guarded([&] {
    const auto* const head = static_cast<const unsigned char*>(from);
    return plain->pMethods->xWrite(plain, logbook_of(file).stamped(head, size), size, offset);
  });
}

// Without memory mapping (version 3), by which pages would pass unseen.
constexpr sqlite3_io_methods logbook_methods = {2,
                                                close_logbook,
                                                read_logbook,
                                                write_logbook,
                                                cut,
                                                sync,
                                                tell_size,
                                                lock_logbook,
                                                unlock_logbook,
                                                is_reserved,
                                                control_logbook,
                                                sector,
                                                traits,
                                                map_shared,
                                                lock_shared,
                                                barrier,
                                                unmap_shared,
                                                nullptr,
                                                nullptr};
constexpr sqlite3_io_methods journal_methods = {
    1,       close,   read,        write_journal, cut,    sync,   tell_size,
    lock,    unlock,  is_reserved, control,       sector, traits, nullptr,
    nullptr, nullptr, nullptr,     nullptr,       nullptr};

// Opening.

int open_logbook(const char* path, sqlite3_file* file, int flags, int* out) {
  int opened = 0;
  const int code = below()->xOpen(below(), path, plain_in(file), flags, &opened);
  if (out != nullptr) *out = opened;
  if (code != SQLITE_OK) return code;
  const int made = guarded([&] {
    shell_of(file)->logbook =
        new OpenFile(plain_in(file), path, (opened & SQLITE_OPEN_READONLY) != 0);
    return SQLITE_OK;
  });
  if (made == SQLITE_OK)
    file->pMethods = &logbook_methods;
  else
    close(file);
  return made;
}

// SQLite syncs the folder at every commit whose journal it opens as if it might have to make the
// file. One that holds anything is known to be found again after a power cut, and is opened as it
// stands; the folder is synced when it is made, before anything is written to it.
int open_lasting(const char* path, sqlite3_file* plain, int flags, int* out) {
  if (holds_anything(path) &&
      below()->xOpen(below(), path, plain, flags & ~SQLITE_OPEN_CREATE, out) == SQLITE_OK)
    return SQLITE_OK;
  const int code = below()->xOpen(below(), path, plain, flags, out);
  if (code != SQLITE_OK || sync_folder_of(path)) return code;
  plain->pMethods->xClose(plain);
  return SQLITE_IOERR_DIR_FSYNC;
}

int open_journal(const char* path, sqlite3_file* file, int flags, int* out) {
  sqlite3_file* const logbook = sqlite3_database_file_object(path);
  const bool to_be_made = (flags & SQLITE_OPEN_CREATE) != 0;  // else one left behind, to look at
  const int code = to_be_made
                       ? guarded([&] { return open_lasting(path, plain_in(file), flags, out); })
                       : below()->xOpen(below(), path, plain_in(file), flags, out);
  if (code != SQLITE_OK) return code;
  shell_of(file)->logbook = &logbook_of(logbook);
  file->pMethods = &journal_methods;
  return SQLITE_OK;
}

int open_file(sqlite3_vfs* /*unused*/, const char* path, sqlite3_file* file, int flags, int* out) {
  file->pMethods = nullptr;
  if (path != nullptr && (flags & SQLITE_OPEN_MAIN_DB) != 0)
    return open_logbook(path, file, flags, out);
  if (path != nullptr && (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0)
    return open_journal(path, file, flags, out);
  if (path == nullptr) return open_temporary(below(), file, flags, out);
  return below()->xOpen(below(), path, file, flags, out);
}

// SQLite asks for the journal when it has locked the file to read; told that there is one, it looks
// for a writer at work, the size of the file, and whether the journal's first byte is zero, in
// which case it goes on as if there were none. That byte first saves it half of a transaction.
int look_for(sqlite3_vfs* /*unused*/, const char* path, int flags, int* out) {
  if (flags == SQLITE_ACCESS_EXISTS && std::string_view(path).ends_with("-journal")) {
    const Descriptor journal(path, O_RDONLY | O_NOFOLLOW);
    char first = 1;
    if (journal && journal.reads(&first, 1, 0) && first == 0) {
      *out = 0;
      return SQLITE_OK;
    }
  }
  return below()->xAccess(below(), path, flags, out);
}

int ask(sqlite3* database, Ask what, void* argument) {
  return sqlite3_file_control(database, "main", what, argument);
}

}  // namespace

const char* file_layer() {
  static sqlite3_vfs layer = [] {
    sqlite3_vfs made = *below();
    made.zName = "plumule";
    made.szOsFile = std::max(shell_size, temporary_room()) + below()->szOsFile;
    made.xOpen = open_file;
    made.xAccess = look_for;
    made.pNext = nullptr;
    return made;
  }();
  static const int registered = sqlite3_vfs_register(&layer, 0);
  return registered == SQLITE_OK ? layer.zName : nullptr;
}

bool make_room_for_seals(sqlite3* database) {
  int room = seal_size;  // SQLite answers in it what was asked for before
  return sqlite3_file_control(database, "main", SQLITE_FCNTL_RESERVE_BYTES, &room) == SQLITE_OK;
}

void report_to(sqlite3* database, Report& report) { ask(database, ask_report, &report); }

bool is_marked(sqlite3* database) {
  bool marked = false;
  return ask(database, ask_marked, &marked) != SQLITE_OK || marked;  // in memory: none needed
}

bool mark_in_place(sqlite3* database) { return ask(database, ask_mark, nullptr) == SQLITE_OK; }

}  // namespace plumule::logbook
