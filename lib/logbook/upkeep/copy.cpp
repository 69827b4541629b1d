#include "logbook/upkeep/copy.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <filesystem>

#include "logbook/file/disk.hpp"
#include "logbook/file/mark.hpp"
#include "logbook/logbook.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/migrations.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

bool sound(const std::string& path, const Marks& marks) {
  Store copy(path, SQLite::OPEN_READONLY);
  const Marks found = read_marks(copy);
  Query check(copy, "pragma integrity_check(1)");
  return check.next() && check.text(0) == "ok" && found.application == marks.application &&
         found.version == marks.version;
}

}  // namespace

Part::Part(const std::string& beside)
    : path_(free_name(beside + ".part-" + std::to_string(::getpid()))) {}

Part::~Part() {
  std::error_code ignored;
  fs::remove(path_, ignored);
  fs::remove(path_ + "-journal", ignored);
}

void Part::fill(Store& from) const {
  make_room_for_seals(from.database().getHandle());
  Query(from, "vacuum into ?", path_).run();
  if (!sound(path_, read_marks(from)) || !lay_mark(path_) || !sync_file(path_))
    throw Unusable("The copy came out damaged, and was not kept.");
}

// Nobody else has it open, and a stop leaves it to be made anew: no journal, no syncs on the way.
std::unique_ptr<Store> Part::open() const {
  auto store = std::make_unique<Store>(path_, SQLite::OPEN_READWRITE);
  store->run("pragma synchronous = off");
  store->database().tryExec("pragma journal_mode = memory");
  return store;
}

void Part::settle() const {
  if (!sync_file(path_)) throw Unusable("The copy could not be written to the disk.");
}

Leftovers copy_verified(Store& from, const std::string& to) {
  if (fs::exists(fs::symlink_status(to)))
    throw Unusable(to + " exists already. Name a file that does not.");
  if (::faccessat(AT_FDCWD, folder_of(to).c_str(), W_OK, AT_EACCESS) != 0)
    throw Unusable("No copy can be put at " + to +
                   ": there is no such folder, or it is read-only.");
  const Part part(to);
  try {
    part.fill(from);
  } catch (const Unusable& trouble) {
    throw Unusable("No copy could be put at " + to + ". " + trouble.what(), trouble.hints());
  }
  std::optional<Leftovers> leftovers = clear_the_place(to);
  if (!leftovers || !rename_new(part.path(), to))
    throw Unusable("No copy could be put at " + to +
                   ": the name was taken, or the disk refused it.");
  return std::move(*leftovers);
}

}  // namespace plumule::logbook
