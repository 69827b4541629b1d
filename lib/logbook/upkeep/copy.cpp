#include "logbook/upkeep/copy.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "logbook/file/disk.hpp"
#include "logbook/file/mark.hpp"
#include "logbook/file/odd_path.hpp"
#include "logbook/file/part.hpp"
#include "logbook/logbook.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/migrations.hpp"
#include "logbook/upkeep/structure.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

bool sound(const std::string& path, const Marks& marks) {
  Store copy(path, SQLite::OPEN_READONLY);
  const Marks found = read_marks(copy);
  return is_sound(copy) && found.application == marks.application && found.version == marks.version;
}

// An error of writing while a file is copied, which can be read, is one of the copy.
void throw_of_the_copy(const Hindered& trouble, const std::string& none) {
  switch (trouble.by()) {
    case Hindered::By::full_disk:
    case Hindered::By::disk:
      throw Hindered(trouble.by(), none + ": " + disk_trouble(trouble.number()) + '.');
    case Hindered::By::no_opening:
      throw Hindered(trouble.by(), none + ": no file can be made there.");
    default:
      throw Hindered(trouble.by(), none + ". " + trouble.what());
  }
}

}  // namespace

void fill_part(Store& from, const Part& part, const std::string& place) {
  const std::string none = "No copy could be put at " + place;
  if (!part) throw Unusable(none + ": " + disk_trouble(part.error()) + '.');
  try {
    make_room_for_seals(from.database().getHandle());
    Query(from, "vacuum into ?", part.path()).run();
    if (!sound(part.path(), read_marks(from)))
      throw Unusable("The copy came out damaged, and was not kept.");
  } catch (const Hindered& trouble) {
    throw_of_the_copy(trouble, none);
  } catch (const Unusable& trouble) {
    throw Unusable(none + ". " + trouble.what(), trouble.hints());
  }
  if (!sync_file(part.path())) throw Unusable(none + ": " + disk_trouble(errno) + '.');
}

// Nobody else has it open, and a stop leaves it to be made anew: no journal, no syncs on the way.
void change_part(const Part& part, const std::function<void(Store&)>& act) {
  {
    Store store(part.path(), SQLite::OPEN_READWRITE);
    store.run("pragma synchronous = off");
    store.database().tryExec("pragma journal_mode = memory");
    act(store);
  }
  if (!sync_file(part.path()))
    throw Unusable("The copy could not be written to the disk: " + disk_trouble(errno) + '.');
}

Leftovers copy_verified(Store& from, const std::string& to) {
  if (const auto odd = odd_place(to)) throw Unusable("No copy can be put there. " + *odd);
  std::error_code ignored;
  if (fs::exists(fs::symlink_status(to, ignored)))
    throw Unusable(to + " exists already. Name a file that does not.");
  if (::faccessat(AT_FDCWD, folder_of(to).c_str(), W_OK, AT_EACCESS) != 0)
    throw Unusable("No copy can be put at " + to +
                   ": there is no such folder, or it is read-only.");
  const Part part(to, mode_of_copy(from.path()));
  fill_part(from, part, to);
  std::optional<Leftovers> leftovers = clear_the_place(to);
  if (!leftovers || !rename_new(part.path(), to))
    throw Unusable("No copy could be put at " + to +
                   ": the name was taken, or the disk refused it.");
  return std::move(*leftovers);
}

}  // namespace plumule::logbook
