// Both formats: https://www.sqlite.org/fileformat2.html, sections 3 and 4.
#include "logbook/file/journal_head.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <vector>

#define XXH_INLINE_ALL
#include <xxhash.h>

#include "logbook/file/descriptor.hpp"
#include "logbook/file/seal.hpp"

namespace plumule::logbook {
namespace {

constexpr unsigned char journal_magic[8] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};
constexpr char stamp_word[] = "plumule=";      // 8 bytes, without its zero
constexpr char unsealed_stamp[] = "plumule:";  // of makes before the seals; no hash follows
constexpr int hash_at = stamp_at + 8 + 2 * mark_size;
constexpr int hash_of_sizes_at = hash_at + 8;
constexpr int head_room = stamp_at + stamp_size;

std::uint64_t size_of(const Descriptor& file) {
  struct stat seen = {};
  return ::fstat(file.number(), &seen) == 0 ? static_cast<std::uint64_t>(seen.st_size) : 0;
}

Mark mark_from(const unsigned char* bytes) {
  unsigned char page[head_size] = {};
  std::memcpy(page + mark_at, bytes, mark_size);
  return mark_in(page);
}

bool a_size(std::uint32_t bytes, std::uint32_t least) {
  return bytes >= least && bytes <= 65536 && (bytes & (bytes - 1)) == 0;
}

// One segment of a rollback journal: a head, and the pages after it.
struct Segment {
  std::uint32_t records = 0;
  std::uint32_t nonce = 0;
  std::uint32_t pages = 0;
  std::uint32_t sector = 0;
  std::uint32_t page = 0;
};

std::optional<Segment> segment_at(const Descriptor& file, std::uint64_t offset) {
  unsigned char head[stamp_at];
  if (!file.reads(head, sizeof head, offset) ||
      std::memcmp(head, journal_magic, sizeof journal_magic) != 0)
    return std::nullopt;
  return Segment{big_endian(head + 8), big_endian(head + 12), big_endian(head + 16),
                 big_endian(head + 20), big_endian(head + 24)};
}

std::uint32_t checksum(const unsigned char* page, std::uint32_t size, std::uint32_t nonce) {
  std::uint32_t sum = nonce;
  for (std::int64_t i = std::int64_t{size} - 200; i > 0; i -= 200) sum += page[i];
  return sum;
}

XXH64_canonical_t hash_of(const unsigned char* bytes, int size) {
  XXH64_canonical_t hash;
  XXH64_canonicalFromHash(&hash, XXH3_64bits(bytes, static_cast<std::size_t>(size)));
  return hash;
}

XXH64_canonical_t hash_of_stamp(const unsigned char* head) {
  return hash_of(head + stamp_at, hash_at - stamp_at);
}
XXH64_canonical_t hash_of_sizes(const unsigned char* head) {
  constexpr int sizes_at = 12;
  return hash_of(head + sizes_at, stamp_at - sizes_at);
}

// Of `head_room` bytes; none where there is none, or not as it was written.
std::optional<Stamp> stamp_in(const unsigned char* head) {
  if (std::memcmp(head + stamp_at, unsealed_stamp, 8) != 0 &&
      (std::memcmp(head + stamp_at, stamp_word, 8) != 0 ||
       std::memcmp(head + hash_at, hash_of_stamp(head).digest, 8) != 0))
    return std::nullopt;
  return Stamp{mark_from(head + stamp_at + 8), mark_from(head + stamp_at + 8 + mark_size)};
}

// Another program leaves zeros where the stamp is.
bool is_hurt(const unsigned char* head) {
  if (std::memcmp(head + stamp_at, unsealed_stamp, 8) == 0) return false;
  if (stamp_in(head))
    return std::memcmp(head + hash_of_sizes_at, hash_of_sizes(head).digest, 8) != 0;
  return std::any_of(head + stamp_at, head + head_room,
                     [](unsigned char byte) { return byte != 0; });
}

constexpr std::uint32_t all_there_are = 0xffffffff;  // records, where they were not counted

// Calls `act(number, page)` with each page that SQLite would put back, until it answers false;
// false too where a record that was promised is not what was written.
template <class Act>
bool walk(const Descriptor& file, Segment first, const Act& act) {
  const std::uint32_t sector = first.sector;  // the first head counts for all
  const std::uint32_t page = first.page;
  const std::uint64_t record = std::uint64_t{page} + 8;
  const std::uint64_t size = size_of(file);
  std::vector<unsigned char> bytes(record);
  for (std::uint64_t at = 0; at + sector <= size;) {
    const auto here = segment_at(file, at);
    if (!here) return true;
    at += sector;
    const auto read = [&] {
      return file.reads(bytes.data(), record, at) && big_endian(bytes.data()) != 0 &&
             checksum(bytes.data() + 4, page, here->nonce) == big_endian(bytes.data() + 4 + page);
    };
    const bool counted = here->records != all_there_are;
    std::uint64_t records = counted ? here->records : (size - at) / record;
    for (; records > 0; --records, at += record) {
      if (!read()) return !counted;
      if (!act(big_endian(bytes.data()), bytes.data() + 4)) return false;
    }
    // One more than were promised: their number was changed.
    if (counted && here->records > 0 && read()) return false;
    at = (at + sector - 1) / sector * sector;
  }
  return true;
}

// Of the records that SQLite would play back, the one of page 1.
std::optional<Mark> page_one_in(const Descriptor& file, Segment segment) {
  std::optional<Mark> found;
  walk(file, segment, [&found](std::uint32_t number, const unsigned char* page) {
    if (number == 1) found = mark_in(page);
    return !found;
  });
  return found;
}

}  // namespace

void put_stamp(const Stamp& stamp, unsigned char* head) {
  unsigned char page[head_size] = {};
  std::copy_n(stamp_word, 8, head + stamp_at);
  put_mark(stamp.before, page);
  std::memcpy(head + stamp_at + 8, page + mark_at, mark_size);
  put_mark(stamp.after, page);
  std::memcpy(head + stamp_at + 8 + mark_size, page + mark_at, mark_size);
  std::copy_n(hash_of_stamp(head).digest, 8, head + hash_at);
  std::copy_n(hash_of_sizes(head).digest, 8, head + hash_of_sizes_at);
}

Journal rollback_journal(const std::string& path) {
  Journal journal;
  const Descriptor file(path, O_RDONLY | O_NOFOLLOW);
  unsigned char head[stamp_at + stamp_size] = {};
  // A first byte of zero: its commit ended, and nothing is to be rolled back.
  if (!file || file.read(head, 1, 0) == 0 || head[0] == 0) return journal;
  const auto first = segment_at(file, 0);
  // Shorter than a sector, or of sizes that cannot be, it was never finished: SQLite ends it.
  if (!first || !a_size(first->sector, 32) || (first->page != 0 && !a_size(first->page, 512)) ||
      size_of(file) < 512)
    return journal;
  journal.counts = true;
  journal.page_size = first->page;
  journal.pages = first->pages;
  if (first->page != 0) journal.most_records = size_of(file) / first->page;
  if (file.reads(head, sizeof head, 0)) {
    journal.stamp = stamp_in(head);
    journal.hurt = is_hurt(head);
  }
  if (!journal.stamp && first->page != 0) journal.page_one = page_one_in(file, *first);
  return journal;
}

bool is_whole(const std::string& path, const Head& of) {
  const Descriptor file(path, O_RDONLY | O_NOFOLLOW);
  const auto first = segment_at(file, 0);
  if (!file || !first) return false;
  if (first->page == 0) return true;  // of a journal that was not made by SQLite of today
  return walk(file, *first, [&](std::uint32_t number, const unsigned char* page) {
    return !of.has_seals() || is_sealed(page, first->page, number, of.mark);
  });
}

bool can_be_opened(const std::string& path) {
  const Descriptor file(path, O_RDONLY | O_NOFOLLOW);
  return file || errno == ENOENT || errno == ELOOP;
}

bool has_ended(const std::string& path) {
  const Descriptor file(path, O_RDONLY | O_NOFOLLOW);
  unsigned char first = 0;
  if (!file) return errno == ENOENT;
  struct stat seen = {};
  return ::fstat(file.number(), &seen) == 0 &&
         (seen.st_size == 0 || (file.reads(&first, 1, 0) && first == 0));
}

std::optional<Stamp> stamp_of_ended(const std::string& path) {
  const Descriptor file(path, O_RDONLY | O_NOFOLLOW);
  unsigned char head[stamp_at + stamp_size] = {};
  if (!file || !file.reads(head, sizeof head, 0) || head[0] != 0) return std::nullopt;
  return stamp_in(head);
}

Journal write_ahead_log(const std::string& path) {
  Journal log;
  const Descriptor file(path, O_RDONLY | O_NOFOLLOW);
  unsigned char head[32];
  if (!file || !file.reads(head, sizeof head, 0) || (big_endian(head) & 0xfffffffe) != 0x377f0682)
    return log;
  const std::uint32_t page = big_endian(head + 8);
  if (!a_size(page, 512)) return log;
  unsigned char frame[24];
  for (std::uint64_t at = sizeof head; file.reads(frame, sizeof frame, at);
       at += sizeof frame + page) {
    if (std::memcmp(frame + 8, head + 16, 8) != 0) break;  // of an earlier round of the log
    unsigned char first[head_size];
    if (big_endian(frame) == 1 && file.reads(first, sizeof first, at + sizeof frame))
      log.page_one = mark_in(first);
    if (big_endian(frame + 4) != 0) log.counts = true;  // a commit
  }
  // It keeps pages as they are to be: one without a mark may be this file's, rebuilt by a program
  // that knows of none.
  if (log.page_one && log.page_one->none()) log.page_one.reset();
  return log;
}

Belongs belongs(const Journal& journal, const Mark& file) {
  if (journal.stamp) {
    const Stamp& stamp = *journal.stamp;
    if (!file.none())
      return file == stamp.before || file == stamp.after ? Belongs::here : Belongs::elsewhere;
    return stamp.before.none() ? Belongs::unclear : Belongs::elsewhere;
  }
  if (file.none() || !journal.page_one) return Belongs::unclear;
  // Another program's: it kept the page as it found it, and changed no mark.
  return *journal.page_one == file ? Belongs::here : Belongs::elsewhere;
}

}  // namespace plumule::logbook
