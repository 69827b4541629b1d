// The seal that ends every page of a logbook's file, by which a page is known to be as it was
// written: eight of the bytes that SQLite leaves free at the end of each page (reserved space,
// https://www.sqlite.org/fileformat2.html, section 1.3.4), so that any SQLite still reads the file.
//
// It is the 64-bit XXH3 hash (https://github.com/Cyan4973/xxHash) of the page before it, seeded
// with the page's number and the file's own mark: a page in another's place, or of another logbook,
// is no more sound than one with a changed bit. A page that another program wrote keeps the seal of
// what stood there before, and is told by that.
#pragma once

#include <cstddef>
#include <cstdint>

#include "logbook/file/mark.hpp"

namespace plumule::logbook {

// `size` is that of the whole page, at least 512 bytes; `number` counts from 1; of `file` its state
// is not heeded. Of page 1 the bit that says that the file is in the midst of being written counts
// as 0: it comes and goes without a new seal, in a write that no stop can cut in two.
void seal(unsigned char* page, std::size_t size, std::uint32_t number, const Mark& file);
bool is_sealed(const unsigned char* page, std::size_t size, std::uint32_t number, const Mark& file);

}  // namespace plumule::logbook
