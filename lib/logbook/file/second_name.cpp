#include "logbook/file/second_name.hpp"

#include <sqlite3.h>
#include <sys/stat.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <thread>
#include <vector>

#include "logbook/file/disk.hpp"
#include "logbook/file/journal_head.hpp"
#include "logbook/file/mark.hpp"
#include "logbook/logbook.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

struct Seen {
  Head head;
  bool whole = false;  // as long as its head says
};

// By SQLite's own open file: to open and close another here would drop its locks.
Seen look(sqlite3* database) {
  Seen seen;
  sqlite3_file* file = nullptr;
  unsigned char page[head_size] = {};
  sqlite3_int64 size = 0;
  if (sqlite3_file_control(database, "main", SQLITE_FCNTL_FILE_POINTER,
                           static_cast<void*>(&file)) != SQLITE_OK ||
      file == nullptr || file->pMethods == nullptr ||
      file->pMethods->xRead(file, page, head_size, 0) != SQLITE_OK ||
      file->pMethods->xFileSize(file, &size) != SQLITE_OK)
    return seen;
  constexpr int page_size_at = 16, pages_at = 28;  // bytes into the file
  const int said = page[page_size_at] * 256 + page[page_size_at + 1];
  const std::int64_t page_size = said == 1 ? 65536 : said;
  seen.head = head_in(page);
  seen.whole = size == page_size * std::int64_t{big_endian(page + pages_at)};
  return seen;
}

// The other names of the file in its folder.
std::vector<std::string> names_beside(const std::string& path) {
  std::vector<std::string> names;
  struct stat own = {};
  if (::lstat(path.c_str(), &own) != 0) return names;
  std::error_code ended;
  for (fs::directory_iterator entry(folder_of(path), ended), end; !ended && entry != end;
       entry.increment(ended)) {
    struct stat other = {};
    const std::string name = entry->path().string();
    if (::lstat(name.c_str(), &other) == 0 && other.st_ino == own.st_ino &&
        other.st_dev == own.st_dev && entry->path().filename() != fs::path(path).filename())
      names.push_back(name);
  }
  return names;
}

bool unfinished(const std::string& name, const Mark& mark) {
  const Journal journal = rollback_journal(name + "-journal");
  if (journal.counts && belongs(journal, mark) != Belongs::elsewhere) return true;
  const Journal log = write_ahead_log(name + "-wal");
  return log.counts && belongs(log, mark) != Belongs::elsewhere;
}

bool told_finished(const std::string& path, const Seen& seen) {
  if (seen.head.mark.none() || !seen.whole) return false;
  if (as_made(seen.head.mark)) return true;
  const auto stamp = stamp_of_ended(path + "-journal");
  return stamp && (seen.head.mark == stamp->before || seen.head.mark == stamp->after);
}

}  // namespace

void refuse_if_unfinished_elsewhere(sqlite3* database, const std::string& path, nlink_t names) {
  std::error_code trouble;
  const std::string own = fs::canonical(path, trouble).string();
  if (trouble) return;
  const auto until = std::chrono::steady_clock::now() + busy_wait;
  for (;;) {
    const Seen seen = look(database);
    if (unfinished(own, seen.head.mark)) return;
    const std::vector<std::string> others = names_beside(own);
    const auto left = std::find_if(others.begin(), others.end(), [&](const std::string& other) {
      return unfinished(other, seen.head.mark);
    });
    if (left == others.end()) {
      if (others.size() + 1 >= names || told_finished(own, seen)) return;
      break;
    }
    if (std::chrono::steady_clock::now() >= until)
      throw Unusable(path + " is a second name (a hard link) of " + *left +
                     ", by which a command that was stopped left it unfinished. Use it by that "
                     "name once: it is put right by what lies beside it.");
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  throw Unusable(path +
                 " has a second name (a hard link) in another folder. A command that was stopped "
                 "may have left it unfinished there, and what would mend it lies beside that name. "
                 "Use it by that name; find -samefile " +
                 path +
                 " tells it. If no file that ends in -journal lies there, use a copy of this one "
                 "made by cp.");
}

}  // namespace plumule::logbook
