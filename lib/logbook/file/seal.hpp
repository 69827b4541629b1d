// The seal that ends every page of a logbook's file, by which a page is known to be as it was
// written: eight of the bytes that SQLite leaves free at the end of each page (reserved space,
// https://www.sqlite.org/fileformat2.html, section 1.3.4), so that any SQLite still reads the file.
//
// It is the 64-bit XXH3 hash (https://github.com/Cyan4973/xxHash) of the page before it, seeded
// with the page's number: a page in another's place is no more sound than one with a changed bit. A
// page that another program wrote keeps the seal of what stood there before, and is told by that.
#pragma once

#include <cstddef>
#include <cstdint>

namespace plumule::logbook {

inline constexpr int seal_size = 8;  // bytes, at the end of the page
// Logbooks of this make of the record and later are sealed (user_version).
inline constexpr std::uint32_t sealed_since = 4;

// `size` is that of the whole page, at least 512 bytes; `number` counts from 1.
void seal(unsigned char* page, std::size_t size, std::uint32_t number);
bool is_sealed(const unsigned char* page, std::size_t size, std::uint32_t number);

}  // namespace plumule::logbook
