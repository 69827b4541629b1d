#include "logbook/stopping.hpp"

#include <signal.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cstdlib>
#include <map>

namespace plumule::tests {
namespace {

int left = 0;
// SQLite's methods of a file with ours in their place, by the ones that they were.
std::map<const sqlite3_io_methods*, sqlite3_io_methods>& stopping() {
  static std::map<const sqlite3_io_methods*, sqlite3_io_methods> methods;
  return methods;
}
int (*plain_write)(sqlite3_file*, const void*, int, sqlite3_int64);
int (*plain_cut)(sqlite3_file*, sqlite3_int64);
int (*plain_sync)(sqlite3_file*, int);

void step() {
  if (--left > 0) return;
  ::kill(::getpid(), SIGKILL);
  std::abort();
}

int write(sqlite3_file* file, const void* from, int size, sqlite3_int64 offset) {
  step();
  return plain_write(file, from, size, offset);
}
int cut(sqlite3_file* file, sqlite3_int64 size) {
  step();
  return plain_cut(file, size);
}
int sync(sqlite3_file* file, int how) {
  step();
  return plain_sync(file, how);
}

sqlite3_vfs* system_layer = nullptr;

int open(sqlite3_vfs*, const char* path, sqlite3_file* file, int flags, int* out) {
  const int code = system_layer->xOpen(system_layer, path, file, flags, out);
  constexpr int watched = SQLITE_OPEN_MAIN_DB | SQLITE_OPEN_MAIN_JOURNAL;
  if (code != SQLITE_OK || (flags & watched) == 0) return code;
  const auto [found, fresh] = stopping().emplace(file->pMethods, *file->pMethods);
  if (fresh) {
    plain_write = found->second.xWrite;  // the same in every set of them
    plain_cut = found->second.xTruncate;
    plain_sync = found->second.xSync;
    found->second.xWrite = write;
    found->second.xTruncate = cut;
    found->second.xSync = sync;
  }
  file->pMethods = &found->second;
  return code;
}

}  // namespace

void stop_at(int write_number) {
  left = write_number;
  system_layer = sqlite3_vfs_find(nullptr);
  static sqlite3_vfs layer = *system_layer;
  layer.zName = "stopping";
  layer.xOpen = open;
  layer.pNext = nullptr;
  sqlite3_vfs_register(&layer, 1);
}

}  // namespace plumule::tests
