#include "logbook/file/temporary.hpp"

#include <cerrno>
#include <exception>
#include <utility>

#include "logbook/file/disk.hpp"

namespace plumule::logbook {
namespace {

struct Shell : sqlite3_file {};  // and after it the file of the layer below
constexpr int room = (sizeof(Shell) + 15) / 16 * 16;

thread_local std::optional<std::string> failed;

sqlite3_file* plain_in(sqlite3_file* file) {
  return reinterpret_cast<sqlite3_file*>(reinterpret_cast<char*>(file) + room);
}

// The layer below knows in which folder it makes them, and tells it by the name of another one.
void note_failure(sqlite3_file* plain) {
  const int why = errno;  // which SQLite asks for later
  char* name = nullptr;
  plain->pMethods->xFileControl(plain, SQLITE_FCNTL_TEMPFILENAME, static_cast<void*>(&name));
  try {
    failed = name == nullptr ? std::string() : folder_of(name);
  } catch (const std::exception&) {
    failed.reset();
  }
  sqlite3_free(name);
  errno = why;
}

int close(sqlite3_file* file) { return plain_in(file)->pMethods->xClose(plain_in(file)); }
int read(sqlite3_file* file, void* into, int size, sqlite3_int64 offset) {
  return plain_in(file)->pMethods->xRead(plain_in(file), into, size, offset);
}
int write(sqlite3_file* file, const void* from, int size, sqlite3_int64 offset) {
  const int code = plain_in(file)->pMethods->xWrite(plain_in(file), from, size, offset);
  if (code != SQLITE_OK) note_failure(plain_in(file));
  return code;
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

// Version 1: without memory mapping, by which pages would pass unseen.
constexpr sqlite3_io_methods methods = {
    1,       close,  read,   write,   cut,     sync,    tell_size, lock,    unlock, is_reserved,
    control, sector, traits, nullptr, nullptr, nullptr, nullptr,   nullptr, nullptr};

}  // namespace

int temporary_room() { return room; }

int open_temporary(sqlite3_vfs* below, sqlite3_file* file, int flags, int* out) {
  const int code = below->xOpen(below, nullptr, plain_in(file), flags, out);
  if (code == SQLITE_OK)
    file->pMethods = &methods;
  else if (code != SQLITE_NOMEM)
    failed = std::string();
  return code;
}

std::optional<std::string> failed_temporary_folder() { return std::exchange(failed, {}); }

}  // namespace plumule::logbook
