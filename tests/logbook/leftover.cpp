// Whatever a grower does to save a logbook that a stopped command left half written, no backup is
// ruined by it, and nothing becomes another state without a word.
//   logbook_leftover [STOPS [SEED]]     (stops tried of each command, 5 unless said; long form: 60)
//
// Commands are stopped at their writes and killed at random moments; to each wreck is done what
// growers do; then the logbook is opened as the next command would, checked whole, and compared row
// by row with what it must hold.
#include <iostream>

#include "logbook/file/journal_head.hpp"
#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/sealing.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/restore.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "logbook/wrecks.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

// What the next command finds.
struct Found {
  std::string refusal;  // it cannot be opened
  std::vector<std::string> wrong;
  std::string rows;
  Leftovers leftovers;
};

Found open_next(const std::string& path) {
  Found found;
  try {
    Logbook book = Logbook::open(path, Access::write);
    found.leftovers = book.leftovers();
    for (const auto& wrong : check(book)) found.wrong.push_back(wrong.fact);
    found.rows = all_of(book);
  } catch (const Unusable& refusal) {
    found.refusal = refusal.what();
  }
  return found;
}

// Copies over what stands there, as cp does, or puts a copy in its place, as mv does.
void cp(const std::string& from, const std::string& to) {
  fs::copy_file(from, to, fs::copy_options::overwrite_existing);
}
void mv(const std::string& from, const std::string& to) {
  fs::copy_file(from, to + ".moving");
  fs::rename(to + ".moving", to);
}

// The command runs anew in each case, at its own time: YYYY-MM-DDTHH:MM:SSZ is left out.
std::string without_times(std::string rows) {
  for (std::size_t at = rows.find("Z'"); at != std::string::npos; at = rows.find("Z'", at + 1))
    if (at >= 19 && rows[at - 3] == ':' && rows[at - 9] == 'T') rows.replace(at - 19, 19, 19, '-');
  return rows;
}

std::string sound_and(const Found& found, const std::vector<std::string>& allowed) {
  if (!found.refusal.empty()) return "refused: " + found.refusal;
  if (!found.wrong.empty()) return "unsound: " + found.wrong.front();
  for (const std::string& rows : allowed)
    if (without_times(found.rows) == without_times(rows)) return {};
  return "another state than it may be in";
}

// A stranger's journal was there, and lies under a new name, byte for byte.
std::string set_aside(const Found& found, const Wreck& wreck) {
  if (found.leftovers.size() != 1 || found.leftovers[0].what != Leftover::What::set_aside)
    return "the journal was not set aside";
  return bytes_of(found.leftovers[0].kept) == wreck.journal ? "" : "the journal is not as it was";
}

std::string copied(const Found& found, const std::string& file, const std::string& journal) {
  if (found.leftovers.size() != 1 || found.leftovers[0].what != Leftover::What::as_found)
    return "no copies were made";
  const std::string& kept = found.leftovers[0].kept;
  return bytes_of(kept) == file && bytes_of(kept + "-journal") == journal
             ? ""
             : "the copies are not what was there";
}

std::string first_of(const std::string& one, const std::string& other) {
  return one.empty() ? other : one;
}

// What a grower does, and what must be so afterwards; the trouble, or nothing.
struct Rescue {
  const char* name;
  std::string (*act)(const Wreck& wreck, const std::string& path);
};

std::string backup_in_place(const Wreck& wreck, const std::string& path, const std::string& rows) {
  const Found found = open_next(path);
  return first_of(sound_and(found, {rows}), set_aside(found, wreck));
}

const Rescue rescues[] = {
    {"nothing",
     [](const Wreck& wreck, const std::string& path) {
       const Found found = open_next(path);
       if (!found.leftovers.empty())
         return std::string("its own journal was taken for a stranger's");
       return sound_and(found, {wreck.ground->before, wreck.ground->after});
     }},
    {"cp older",
     [](const Wreck& wreck, const std::string& path) {
       cp(wreck.ground->older, path);
       return backup_in_place(wreck, path, wreck.ground->older_rows);
     }},
    {"cp newer",
     [](const Wreck& wreck, const std::string& path) {
       cp(wreck.ground->newer, path);
       return backup_in_place(wreck, path, wreck.ground->newer_rows);
     }},
    {"mv older",
     [](const Wreck& wreck, const std::string& path) {
       mv(wreck.ground->older, path);
       return backup_in_place(wreck, path, wreck.ground->older_rows);
     }},
    {"mv newer",
     [](const Wreck& wreck, const std::string& path) {
       mv(wreck.ground->newer, path);
       return backup_in_place(wreck, path, wreck.ground->newer_rows);
     }},
    {"mv away, mv newer",
     [](const Wreck& wreck, const std::string& path) {
       fs::rename(path, path + ".away");
       mv(wreck.ground->newer, path);
       return backup_in_place(wreck, path, wreck.ground->newer_rows);
     }},
    {"rm and init",
     [](const Wreck& wreck, const std::string& path) {
       fs::remove(path);
       const std::string kept = Logbook::create(path).leftovers().at(0).kept;
       if (bytes_of(kept) != wreck.journal) return std::string("the journal is not as it was");
       const Folder fresh;
       Logbook::create(fresh / "log.db");
       return sound_and(open_next(path), {rows_of(fresh / "log.db")});
     }},
    {"backup onto it",
     [](const Wreck& wreck, const std::string& path) {
       fs::remove(path);
       const Folder place;
       cp(wreck.ground->other, place / "other.db");
       Logbook other = Logbook::open(place / "other.db", Access::read);
       const Leftovers leftovers = backup(other, path);
       if (leftovers.size() != 1 || bytes_of(leftovers[0].kept) != wreck.journal)
         return std::string("the journal was not set aside");
       return sound_and(open_next(path), {wreck.ground->other_rows});
     }},
    {"restore older",
     [](const Wreck& wreck, const std::string& path) {
       const Restored restored = restore(wreck.ground->older, path);
       // The former file and its journal lie together, and give what they would have given here.
       return first_of(sound_and(open_next(path), {wreck.ground->older_rows}),
                       sound_and(open_next(restored.former.value()),
                                 {wreck.ground->before, wreck.ground->after}));
     }},
    {"restore newer, and back",
     [](const Wreck& wreck, const std::string& path) {
       const Restored restored = restore(wreck.ground->newer, path);
       const std::string there = sound_and(open_next(path), {wreck.ground->newer_rows});
       restore(restored.former.value(), path);
       return first_of(there,
                       sound_and(open_next(path), {wreck.ground->before, wreck.ground->after}));
     }},
    {"emptied, then restore",
     [](const Wreck& wreck, const std::string& path) {
       write_bytes(path, "");
       const Found found = open_next(path);
       if (found.refusal.find("is empty (0 bytes)") == std::string::npos)
         return std::string("an empty file was not told");
       restore(wreck.ground->newer, path);
       return sound_and(open_next(path), {wreck.ground->newer_rows});
     }},
    {"cut short, then restore",
     [](const Wreck& wreck, const std::string& path) {
       fs::resize_file(path, fs::file_size(path) / 2);
       const Found found = open_next(path);
       if (found.refusal.empty() && found.wrong.empty() &&
           !sound_and(found, {wreck.ground->before, wreck.ground->after}).empty())
         return std::string("a part of the file passes for the whole");
       restore(wreck.ground->newer, path);
       return sound_and(open_next(path), {wreck.ground->newer_rows});
     }},
    // Copies by cp bear the same mark: the state tells them apart.
    {"cp of a copy by cp",
     [](const Wreck& wreck, const std::string& path) {
       cp(wreck.ground->log, path);
       const Found found = open_next(path);
       return sound_and(found, {wreck.ground->before});
     }},
    {"the copy by cp moved on",
     [](const Wreck& wreck, const std::string& path) {
       const Folder place;
       cp(wreck.ground->log, place / "on.db");
       Logbook::open(place / "on.db", Access::write);  // migrated, where it is of an older make
       log_count(place / "on.db", "K3", at("2029-01-01T00:00").minutes(), 7);
       const std::string rows = rows_of(place / "on.db");
       cp(place / "on.db", path);
       return backup_in_place(wreck, path, rows);
     }},
    // Files of before bear no mark: nothing tells, so both are kept as they were.
    {"cp of a backup of before",
     [](const Wreck& wreck, const std::string& path) {
       cp(wreck.ground->older, path);
       unmark(path);
       return backup_in_place(wreck, path, wreck.ground->older_rows);
     }},
};

// A journal that bears no stamp, as another program leaves it.
std::string unstamped(const Wreck& wreck, const std::string& folder) {
  std::string path = lay_wreck(wreck, folder);
  std::string trouble = sound_and(open_next(path), {wreck.ground->before});
  if (!trouble.empty()) return "its own: " + trouble;
  path = lay_wreck(wreck, folder);
  cp(wreck.ground->newer, path);
  trouble = backup_in_place(wreck, path, wreck.ground->newer_rows);
  if (!trouble.empty()) return "a backup: " + trouble;
  // An unmarked backup under a journal of another: whatever comes of it, both can be had again.
  path = lay_wreck(wreck, folder);
  cp(wreck.ground->newer, path);
  unmark(path);
  const std::string backup_bytes = bytes_of(path);
  const Found found = open_next(path);
  const std::string kept = path + ".as-found";
  if (!found.refusal.empty() && found.refusal.find(kept) == std::string::npos)
    return "nothing was told of the copies";
  if (bytes_of(kept) != backup_bytes || bytes_of(kept + "-journal") != wreck.journal)
    return "the copies are not what was there";
  fs::remove(kept + "-journal");
  restore(kept, path);
  return sound_and(open_next(path), {wreck.ground->newer_rows});
}

// A logbook of before the marks and the seals, which another program was stopped in: nothing tells
// whose the journal is. It is rolled back, and copies of both are kept.
std::string unmarked(const std::string& folder) {
  Ground ground;
  ground.log = folder + "/unmarked.db";
  lay_older(ground.log, 3);
  const std::string whole = folder + "/whole.db";
  cp(ground.log, whole);
  const std::string rows = rows_of(whole);
  const Wreck wreck = by_another_program(ground);
  const Folder place;
  const Found found = open_next(lay_wreck(wreck, place.path()));
  return first_of(sound_and(found, {rows}), copied(found, wreck.log, wreck.journal));
}

int rounds(int stops, unsigned seed) {
  const Folder folder;
  int cases = 1;
  const std::string trouble_of_unmarked = unmarked(folder.path());
  if (!trouble_of_unmarked.empty()) return fail("a file without a mark, " + trouble_of_unmarked);
  std::string trouble_of_migration;
  const Ground older_make = lay_ground(folder / "migration", Work::migration);
  migrations_stopped(older_make, [&](const std::string& path, int write) {
    const std::string trouble = sound_and(open_next(path), {older_make.before});
    if (!trouble.empty())
      trouble_of_migration = "migration stopped at write " + std::to_string(write) + ": " + trouble;
    ++cases;
  });
  if (!trouble_of_migration.empty()) return fail(trouble_of_migration);
  for (const Work work : {Work::count, Work::import}) {
    const Ground ground = lay_ground(folder / name_of(work), work);
    std::vector<Wreck> wrecks = stopped_at_writes(ground, work, stops);
    if (wrecks.size() < 3) return fail(std::string(name_of(work)) + " left too few journals");
    for (Wreck& wreck : killed(ground, work, (stops + 3) / 4, seed))
      wrecks.push_back(std::move(wreck));
    const std::string older = bytes_of(ground.older), newer = bytes_of(ground.newer);
    const Folder place;
    for (const Wreck& wreck : wrecks)
      for (const Rescue& rescue : rescues) {
        std::string trouble;
        try {
          trouble = rescue.act(wreck, lay_wreck(wreck, place.path()));
        } catch (const std::exception& error) {
          trouble = error.what();
        }
        if (trouble.empty() && (bytes_of(ground.older) != older || bytes_of(ground.newer) != newer))
          trouble = "the backup itself was changed";
        if (!trouble.empty())
          return fail(wreck.name + ", then " + rescue.name + " (seed " + std::to_string(seed) +
                      "): " + trouble);
        ++cases;
      }
    if (work == Work::count) {
      const std::string trouble = unstamped(by_another_program(ground), place.path());
      if (!trouble.empty()) return fail("a journal without a stamp, " + trouble);
      cases += 3;
    }
  }
  std::cout << cases << " cases: no backup ruined, no state but a known one\n";
  return cases < 200 ? fail("too few cases to show anything") : 0;
}

}  // namespace

int main(int argc, char** argv) {
  const int stops = number_typed(argc, argv, 1, 8);
  const int seed = number_typed(argc, argv, 2, 1);
  if (stops < 1) return fail("logbook_leftover [STOPS [SEED]]");
  return rounds(stops, static_cast<unsigned>(seed));
}
