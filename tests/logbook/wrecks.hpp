// Logbooks left half written by a stopped command, each with the journal that would put it right.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace plumule::tests {

// A sound logbook, copies of it from earlier times, and what it becomes by one more command.
struct Ground {
  std::string folder;
  std::string log;    // as the command found it
  std::string older;  // a backup of some counts ago
  std::string newer;  // a backup of just before
  std::string other;  // another logbook altogether

  std::string before, after;  // all rows of `log`, and with the command done
  std::string older_rows, newer_rows, other_rows;
};

struct Wreck {
  const Ground* ground = nullptr;
  std::string name;          // which command, stopped where
  std::string log, journal;  // their bytes
};

enum class Work { count, import, migration };
const char* name_of(Work work);
// The same file with the mark taken off: as the logbooks of before are.
void unmark(const std::string& path);

// Lays the ground in `folder`.
Ground lay_ground(const std::string& folder, Work work);
// Stops the command at each write in turn, and returns those stops, evenly drawn, that left a
// journal to be rolled back: at most so many.
std::vector<Wreck> stopped_at_writes(const Ground& ground, Work work, int most);
// A migration writes to a file of its own, and leaves no journal: stops one in a fresh copy at each
// write in turn, and hands over where that lies and at which write it was.
void migrations_stopped(const Ground& ground,
                        const std::function<void(const std::string& path, int write)>& look);
// Kills it at random moments until so many journals were left.
std::vector<Wreck> killed(const Ground& ground, Work work, int wanted, unsigned seed);
// Another program, which knows of no mark, is stopped with pages in its journal and in the file.
Wreck by_another_program(const Ground& ground);

// Puts the wreck at folder/log.db, with its journal.
std::string lay_wreck(const Wreck& wreck, const std::string& folder);
// All rows of the logbook at the path.
std::string rows_of(const std::string& path);

}  // namespace plumule::tests
