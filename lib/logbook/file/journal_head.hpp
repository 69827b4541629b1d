// What a rollback journal or a write-ahead log left beside a logbook tells of itself, and whose it
// is.
#pragma once

#include <cstdint>
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
inline constexpr int stamp_size = 8 + 2 * mark_size + 2 * 8;
// With two hashes: of itself, and of what SQLite's own head says until the journal ends (bytes 12
// to 27: the nonce and sizes).
void put_stamp(const Stamp& stamp, unsigned char* head);

struct Journal {
  bool counts = false;  // SQLite would change the file by it
  bool hurt = false;    // its head is not as it was written; only of one that counts
  std::uint32_t page_size = 0;
  std::uint32_t pages = 0;         // of the file as the transaction found it: it gets this size
  std::uint64_t most_records = 0;  // pages that are kept in it, at most
  std::optional<Stamp> stamp;
  std::optional<Mark> page_one;  // of the first page as it is kept in it; only where no stamp is
};
Journal rollback_journal(const std::string& path);
Journal write_ahead_log(const std::string& path);

// Whether every page that a rollback journal promises to put back is in it as it was: SQLite would
// take the first that is not for the journal's end, and leave the file half put back. `file` is
// the head of the file it belongs to, whose pages may bear seals.
bool is_whole(const std::string& path, const Head& file);

// False where a file stands there and cannot be opened, for want of something else than the file.
bool can_be_opened(const std::string& path);

// Nothing is rolled back by what stands there: no journal, or one that has ended.
bool has_ended(const std::string& path);

// The stamp of a journal whose transaction ended: it stays when SQLite has ended the journal by
// writing over its head.
std::optional<Stamp> stamp_of_ended(const std::string& path);

enum class Belongs { here, elsewhere, unclear };
// `file` is none where it bears no mark, or is no database.
Belongs belongs(const Journal& journal, const Mark& file);

}  // namespace plumule::logbook
