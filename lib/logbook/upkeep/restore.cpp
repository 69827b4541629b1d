#include "logbook/upkeep/restore.hpp"

#include <unistd.h>

#include <filesystem>

#include "logbook/file/disk.hpp"
#include "logbook/file/odd_path.hpp"
#include "logbook/file/part.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/store.hpp"
#include "logbook/upkeep/copy.hpp"
#include "logbook/upkeep/findings.hpp"
#include "logbook/upkeep/opening.hpp"
#include "logbook/upkeep/stand_in.hpp"
#include "logbook/upkeep/structure.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

constexpr const char* as_it_was = " All is as it was.";

std::unique_ptr<Store> open_backup(const std::string& backup) {
  std::error_code ignored;
  if (const auto odd = odd_on_the_way(backup))
    throw Unusable("Nothing was restored, and all is as it was. " + *odd);
  if (!fs::exists(backup, ignored))
    throw Unusable("There is no backup at " + backup + '.', {{records::Advice::name_backup}});
  if (fs::is_regular_file(backup, ignored) && fs::file_size(backup, ignored) == 0)
    throw Unusable(backup + " is empty (0 bytes), so it is no backup. Name another." + as_it_was);
  try {
    return open_as_it_is(backup, Access::read, ladder()).store;
  } catch (const Unusable& trouble) {
    // Without its hints, which are none about a backup.
    throw Unusable(std::string("Nothing was restored, and all is as it was. ") + trouble.what());
  }
}

void verify(Store& store) {
  Findings findings;
  check_file(store, findings);
  if (!findings.all().empty())
    throw Unusable(store.path() + " is damaged, so it was not put in place of anything: " +
                   findings.all().front().fact + as_it_was);
}

// As far as can be told without touching it: one with a journal of its own is not opened.
bool seems_sound(const std::string& path) {
  std::error_code ignored;
  if (fs::exists(path + "-journal", ignored) || fs::exists(path + "-wal", ignored)) return true;
  try {
    Store store(path, SQLite::OPEN_READONLY);
    const Marks marks = read_marks(store);
    if (marks.application != application_id || marks.version < 1) return false;
    return is_sound(store);
  } catch (const Hindered&) {
    return true;
  } catch (const Unusable&) {
    return false;
  }
}

void look_over(const std::string& path) {
  if (const auto odd = odd_place(path)) throw Unusable("Nothing can be put there. " + *odd);
  std::error_code ignored;
  if (fs::exists(path, ignored) && !fs::is_regular_file(path, ignored))
    throw Unusable(path + " is no ordinary file, so nothing can take its place.");
  fs::create_directories(folder_of(path), ignored);
  if (::access(folder_of(path).c_str(), W_OK) != 0)
    throw Unusable("Nothing can be put at " + path + ": its folder cannot be made or written.");
}

Restored facts_of(Store& store) {
  Restored facts;
  Query sowings(store, "select count(*) from sowings");
  if (sowings.next()) facts.sowings = sowings.integer(0);
  Query last(store, "select at from journal order by id desc limit 1");
  if (last.next()) facts.last_entry = last.text(0);
  return facts;
}

}  // namespace

Restored restore(const std::string& backup, const std::string& named) {
  const std::string path = place_of(named);
  std::error_code ignored;
  if (fs::equivalent(backup, path, ignored))
    throw Unusable(backup + " is the logbook itself. Name the backup to be put in its place.");
  const auto store = open_backup(backup);
  verify(*store);
  look_over(path);
  Restored restored = facts_of(*store);
  // Where a logbook stands its mode holds for the new one, and a narrower one until then.
  const bool stood = fs::exists(path, ignored);
  const Part part(path, mode_of_copy(stood ? path : backup));
  try {
    fill_part(*store, part, path);
  } catch (const Unusable& trouble) {
    throw Unusable(trouble.what() + std::string(as_it_was), trouble.hints());
  }
  if (stood) {
    restored.former = stand_in(part.path(), path, path + ".before-restore");
    restored.former_sound = seems_sound(*restored.former);
  } else {
    std::optional<Leftovers> leftovers = clear_the_place(path);
    if (!leftovers || !rename_new(part.path(), path))
      throw Unusable("Nothing could be put at " + path + ": the disk or the folder refuses it.");
    restored.leftovers = std::move(*leftovers);
  }
  for (const Leftover& leftover : store->leftovers()) restored.leftovers.push_back(leftover);
  return restored;
}

}  // namespace plumule::logbook
