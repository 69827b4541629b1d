// The mark that a logbook's file bears on its first page, and by which a journal is told from a
// stranger's.
//
// SQLite leaves bytes 72 to 91 of a database's header to nobody ("reserved for expansion", zero at
// creation) and carries them along when it writes the page
// (https://www.sqlite.org/fileformat2.html, section 1.3). The first 16 are drawn at random when a
// file is made and never change: they say which file this is. The last four are drawn anew by each
// transaction: they say which state of it, so that a copy made by `cp`, which bears the same mark,
// is told from what the file became since.
//
// The highest bit of the state is no part of it. In a sealed file it says that a transaction is in
// the midst of writing: it is set before any page is written, and cleared when the journal has
// ended, by writes of that one byte. So what a stopped command left half written is known as that
// even where its journal was lost or hurt; where only the last of these writes was lost, to a power
// cut, the ended journal tells.
#pragma once

#include <array>
#include <cstdint>
#include <string>

namespace plumule::logbook {

// 'Plml' as the file's application_id. Never changes.
inline constexpr std::int64_t application_id = 0x506C6D6C;

struct Mark {
  std::array<unsigned char, 16> file{};
  std::array<unsigned char, 4> state{};

  bool none() const { return file == std::array<unsigned char, 16>{}; }
  bool operator==(const Mark&) const = default;
};

inline constexpr int mark_at = 72;    // bytes into the file
inline constexpr int mark_size = 20;  // bytes

// What stands in the first 92 bytes of a page 1, and there put in, as of a file that is whole.
Mark mark_in(const unsigned char* page);
void put_mark(const Mark& mark, unsigned char* page);
// Whether the file is in the midst of being written: the byte of page 1 that says it.
inline constexpr int midst_at = mark_at + 16;  // bytes into the file
inline constexpr unsigned char midst_bit = 0x80;

Mark fresh_mark();
// Whether no transaction has written to the file since it was marked. Not known of files that
// older makes marked: false.
bool as_made(const Mark& mark);
// The same file in another state.
Mark in_next_state(Mark mark);

inline constexpr int seal_size = 8;  // bytes, at the end of each page of a sealed file (seal.hpp)
// Logbooks of this make of the record and later are sealed (user_version).
inline constexpr std::uint32_t sealed_since = 4;

// What the layer reads of a database's header (big-endian, same section).
struct Head {
  bool database = false;      // begins as one does
  bool write_ahead = false;   // is to be read with a write-ahead log
  std::uint32_t counter = 0;  // of changes
  std::uint32_t page_size = 0;
  int reserved = 0;  // bytes that each page ends with, and SQLite does not use
  Mark mark;
  // Each page of it is to bear a seal. Where no room is left for them, another program took it.
  bool to_be_sealed = false;
  bool in_the_midst = false;  // of being written; only of a file that is to be sealed

  bool has_seals() const;
};
inline constexpr int head_size = 100;  // bytes
Head head_in(const unsigned char* page);

inline constexpr int counter_at = 24;  // bytes into the file
std::uint32_t big_endian(const unsigned char* four);
void put_big_endian(std::uint32_t number, unsigned char* four);

}  // namespace plumule::logbook
