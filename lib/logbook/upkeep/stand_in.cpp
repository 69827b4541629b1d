#include "logbook/upkeep/stand_in.hpp"

#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <cstddef>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <thread>
#include <vector>

#include "logbook/file/disk.hpp"
#include "logbook/file/journal_head.hpp"
#include "logbook/file/leftover.hpp"
#include "logbook/logbook.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {
namespace {

// SQLite's own exclusive lock on a file, whatever it holds: taken below SQLite, which would ask for
// a sound database first.
class Held {
 public:
  explicit Held(const std::string& path)
      : name_(sqlite3_create_filename(path.c_str(), "", "", 0, nullptr)),
        room_(static_cast<std::size_t>(system_->szOsFile) / sizeof(std::max_align_t) + 1) {
    constexpr int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_MAIN_DB;
    int opened = 0;
    if (name_ == nullptr || system_->xOpen(system_, name_, file(), flags, &opened) != SQLITE_OK) {
      sqlite3_free_filename(name_);
      throw Unusable(path + " could not be opened, so nothing took its place.");
    }
    open_ = true;
    if ((opened & SQLITE_OPEN_READONLY) != 0) {
      release();
      throw Unusable(path + " is read-only, so nothing took its place.");
    }
    if (!locked_in_time()) {
      release();
      throw Unusable(path +
                     " is locked: another program has been using it for 5 seconds. Wait for it or "
                     "close it, and try again. All is as it was.");
    }
  }
  Held(const Held&) = delete;
  Held& operator=(const Held&) = delete;
  ~Held() { release(); }

 private:
  sqlite3_file* file() { return reinterpret_cast<sqlite3_file*>(room_.data()); }

  bool locked_in_time() {
    const auto until = std::chrono::steady_clock::now() + busy_wait;
    const sqlite3_io_methods& methods = *file()->pMethods;
    for (;;) {
      int code = methods.xLock(file(), SQLITE_LOCK_SHARED);
      if (code == SQLITE_OK) code = methods.xLock(file(), SQLITE_LOCK_EXCLUSIVE);
      if (code == SQLITE_OK) return true;
      if (std::chrono::steady_clock::now() >= until) return false;
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
  }

  void release() {
    if (!open_) return;
    open_ = false;
    file()->pMethods->xUnlock(file(), SQLITE_LOCK_NONE);
    file()->pMethods->xClose(file());
    sqlite3_free_filename(name_);
  }

  sqlite3_vfs* system_ = sqlite3_vfs_find(nullptr);
  const char* name_;
  std::vector<std::max_align_t> room_;
  bool open_ = false;
};

bool counts(const std::string& path, const std::string& end) {
  return end == "-wal" ? holds_anything(path + end) : rollback_journal(path + end).counts;
}

// The mode that the former file has, so that who could use it can use the new one.
void take_mode(const std::string& from, const std::string& to) {
  struct stat seen = {};
  if (::stat(from.c_str(), &seen) == 0) ::chmod(to.c_str(), seen.st_mode & 0777);
}

// A second name for the file, or a copy of it where the file system knows no second names.
bool keep(const std::string& from, const std::string& to) {
  return ::link(from.c_str(), to.c_str()) == 0 || copy_new(from, to);
}

}  // namespace

std::string place_of(const std::string& path) {
  namespace fs = std::filesystem;
  std::error_code trouble;
  const fs::path place = fs::is_symlink(path, trouble) ? fs::canonical(path, trouble) : fs::path();
  return trouble || place.empty() ? path : place.string();
}

std::string stand_in(const std::string& finished, const std::string& path,
                     const std::string& kept) {
  const Held held(path);
  return take_place(finished, path, kept);
}

std::string take_place(const std::string& finished, const std::string& path,
                       const std::string& wanted) {
  take_mode(path, finished);
  const std::string trouble = "Nothing took the place of " + path +
                              ": the disk or the folder refuses it. All is as it was.";
  std::string kept = free_name_with_journals(wanted);
  std::vector<std::string> ends;  // of the journals that go along
  const auto take_back = [&] {
    for (const std::string& end : ends) ::unlink((kept + end).c_str());
    ::unlink(kept.c_str());
  };
  for (const char* const end : journal_ends) {
    if (!counts(path, end)) continue;
    ends.emplace_back(end);
    if (!keep(path + end, kept + end)) {
      take_back();
      throw Unusable(trouble);
    }
  }
  // Without second names there is a moment in which no logbook stands at the path, but none in
  // which the former one lacks its journal.
  const bool linked = ::link(path.c_str(), kept.c_str()) == 0;
  if (!linked && std::rename(path.c_str(), kept.c_str()) != 0) {
    take_back();
    throw Unusable(trouble);
  }
  sync_folder_of(path);
  if (std::rename(finished.c_str(), path.c_str()) != 0) {
    if (!linked) std::rename(kept.c_str(), path.c_str());
    take_back();
    throw Unusable(trouble);
  }
  // Should the power fail before this, the mark tells that they are not the new file's.
  for (const std::string& end : ends) ::unlink((path + end).c_str());
  sync_folder_of(path);
  return kept;
}

}  // namespace plumule::logbook
