#include "logbook/file/seal.hpp"

#include <cstring>

#define XXH_INLINE_ALL  // the header is the library: nothing more to link, here or at a guest's
#include <xxhash.h>

namespace plumule::logbook {
namespace {

XXH64_canonical_t seal_of(const unsigned char* page, std::size_t size, std::uint32_t number,
                          const Mark& file) {
  std::uint64_t seed = number;  // drawn at random, the mark needs no mixing
  for (std::size_t i = 0; i < 8; ++i) seed ^= std::uint64_t{file.file[i]} << (56 - 8 * i);
  const std::size_t sealed = size - seal_size;
  XXH64_hash_t hash = 0;
  if (number == 1 && (page[midst_at] & midst_bit) != 0) {
    const auto whole = static_cast<unsigned char>(page[midst_at] & ~midst_bit);
    XXH3_state_t state{};
    XXH3_64bits_reset_withSeed(&state, seed);
    XXH3_64bits_update(&state, page, midst_at);
    XXH3_64bits_update(&state, &whole, 1);
    XXH3_64bits_update(&state, page + midst_at + 1, sealed - midst_at - 1);
    hash = XXH3_64bits_digest(&state);
  } else {
    hash = XXH3_64bits_withSeed(page, sealed, seed);
  }
  XXH64_canonical_t bytes;  // in one order on every machine
  XXH64_canonicalFromHash(&bytes, hash);
  return bytes;
}

}  // namespace

void seal(unsigned char* page, std::size_t size, std::uint32_t number, const Mark& file) {
  const XXH64_canonical_t bytes = seal_of(page, size, number, file);
  std::memcpy(page + size - seal_size, bytes.digest, seal_size);
}

bool is_sealed(const unsigned char* page, std::size_t size, std::uint32_t number,
               const Mark& file) {
  const XXH64_canonical_t bytes = seal_of(page, size, number, file);
  return std::memcmp(page + size - seal_size, bytes.digest, seal_size) == 0;
}

}  // namespace plumule::logbook
