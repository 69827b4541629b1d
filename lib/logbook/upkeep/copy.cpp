#include "logbook/upkeep/copy.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>

#include "logbook/logbook.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/migrations.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

bool sync(const std::string& path, int flags) {
  const int file = ::open(path.c_str(), flags | O_CLOEXEC);
  if (file < 0) return false;
  const bool done = ::fsync(file) == 0;
  ::close(file);
  return done;
}

// A file under a name of its own, gone again unless it was given its final one.
class Temporary {
 public:
  explicit Temporary(const std::string& beside)
      : path_(free_name(beside + ".part-" + std::to_string(::getpid()))) {}
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  ~Temporary() {
    std::error_code ignored;
    fs::remove(path_, ignored);
    fs::remove(path_ + "-journal", ignored);
  }
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

bool sound(const std::string& path, const Marks& marks) {
  Store copy(path, SQLite::OPEN_READONLY);
  const Marks found = read_marks(copy);
  Query check(copy, "pragma integrity_check(1)");
  return check.next() && check.text(0) == "ok" && found.application == marks.application &&
         found.version == marks.version;
}

}  // namespace

std::string free_name(const std::string& wanted) {
  std::string name = wanted;
  for (int i = 2; fs::exists(fs::symlink_status(name)); ++i)
    name = wanted + '-' + std::to_string(i);
  return name;
}

bool take_name(const std::string& temporary, const std::string& name) {
  if (!sync(temporary, O_RDONLY)) return false;
  if (::renameat2(AT_FDCWD, temporary.c_str(), AT_FDCWD, name.c_str(), RENAME_NOREPLACE) != 0) {
    // Not every file system can refuse to replace.
    if (errno != EINVAL || fs::exists(fs::symlink_status(name))) return false;
    if (std::rename(temporary.c_str(), name.c_str()) != 0) return false;
  }
  const fs::path folder = fs::path(name).parent_path();
  sync(folder.empty() ? "." : folder.string(), O_RDONLY | O_DIRECTORY);
  return true;
}

void copy_verified(Store& from, const std::string& to) {
  if (fs::exists(fs::symlink_status(to)))
    throw Unusable(to + " exists already. Name a file that does not.");
  const fs::path folder = fs::path(to).parent_path();
  if (::faccessat(AT_FDCWD, folder.empty() ? "." : folder.c_str(), W_OK, AT_EACCESS) != 0)
    throw Unusable("No copy can be put at " + to +
                   ": there is no such folder, or it is read-only.");
  const Temporary part(to);
  bool whole = false;
  try {
    Query(from, "vacuum into ?", part.path()).run();
    whole = sound(part.path(), read_marks(from));
  } catch (const Unusable& trouble) {
    throw Unusable("No copy could be put at " + to + ". " + trouble.what());
  }
  if (!whole) throw Unusable("The copy at " + to + " came out damaged, and was not kept.");
  if (!take_name(part.path(), to))
    throw Unusable("No copy could be put at " + to +
                   ": the name was taken, or the disk refused it.");
}

}  // namespace plumule::logbook
