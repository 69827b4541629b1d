// What a rollback journal or a write-ahead log left beside a logbook tells of itself, and whose it
// is.
#pragma once

#include <optional>
#include <string>

#include "logbook/file/mark.hpp"

namespace plumule::logbook {

// Which file a journal of ours belongs to, and in which two states that file may be while the
// journal counts: as its transaction found it, or as it leaves it. It stands in the padding of the
// journal's head, which SQLite never reads, and is on the disk before the journal counts: so every
// journal tells whose it is, also one that no page has come to yet.
struct Stamp {
  Mark before;
  Mark after;
};

inline constexpr int stamp_at = 28;  // bytes into the journal: where SQLite's head ends
inline constexpr int stamp_size = 8 + 2 * mark_size;
void put_stamp(const Stamp& stamp, unsigned char* head);

struct Journal {
  bool counts = false;  // SQLite would change the file by it
  std::optional<Stamp> stamp;
  std::optional<Mark> page_one;  // of the first page as it is kept in it; only where no stamp is
};
Journal rollback_journal(const std::string& path);
Journal write_ahead_log(const std::string& path);

// Whether every page that a rollback journal promises to put back is in it as it was: SQLite would
// take the first that is not for the journal's end, and leave the file half put back. `sealed`:
// the pages of the file bear seals.
bool is_whole(const std::string& path, bool sealed);

// The stamp of a journal whose transaction ended: it stays when SQLite has ended the journal by
// writing over its head.
std::optional<Stamp> stamp_of_ended(const std::string& path);

enum class Belongs { here, elsewhere, unclear };
// `file` is none where it bears no mark, or is no database.
Belongs belongs(const Journal& journal, const Mark& file);

}  // namespace plumule::logbook
