#include "logbook/file/seal.hpp"

#include <cstring>

#define XXH_INLINE_ALL  // the header is the library: nothing more to link, here or at a guest's
#include <xxhash.h>

namespace plumule::logbook {
namespace {

// In one order of bytes on every machine, as the library's own canonical form is.
XXH64_canonical_t seal_of(const unsigned char* page, std::size_t size, std::uint32_t number) {
  XXH64_canonical_t bytes;
  XXH64_canonicalFromHash(&bytes, XXH3_64bits_withSeed(page, size - seal_size, number));
  return bytes;
}

}  // namespace

void seal(unsigned char* page, std::size_t size, std::uint32_t number) {
  const XXH64_canonical_t bytes = seal_of(page, size, number);
  std::memcpy(page + size - seal_size, bytes.digest, seal_size);
}

bool is_sealed(const unsigned char* page, std::size_t size, std::uint32_t number) {
  const XXH64_canonical_t bytes = seal_of(page, size, number);
  return std::memcmp(page + size - seal_size, bytes.digest, seal_size) == 0;
}

}  // namespace plumule::logbook
