#include "logbook/file/mark.hpp"

#include <sys/random.h>

#include <algorithm>
#include <cstring>
#include <random>
#include <span>

namespace plumule::logbook {
namespace {

void draw(std::span<unsigned char> bytes) {
  do {
    if (::getrandom(bytes.data(), bytes.size(), 0) == static_cast<ssize_t>(bytes.size())) continue;
    std::random_device device;
    for (unsigned char& byte : bytes) byte = static_cast<unsigned char>(device());
  } while (std::all_of(bytes.begin(), bytes.end(), [](unsigned char byte) { return byte == 0; }));
}

}  // namespace

Mark mark_in(const unsigned char* page) {
  Mark mark;
  std::copy_n(page + mark_at, mark.file.size(), mark.file.begin());
  std::copy_n(page + mark_at + mark.file.size(), mark.state.size(), mark.state.begin());
  mark.state[0] &= static_cast<unsigned char>(~midst_bit);
  return mark;
}

void put_mark(const Mark& mark, unsigned char* page) {
  std::copy(mark.file.begin(), mark.file.end(), page + mark_at);
  std::copy(mark.state.begin(), mark.state.end(), page + midst_at);
}

Mark fresh_mark() {
  Mark mark;
  draw(mark.file);
  mark.file[0] &= static_cast<unsigned char>(~midst_bit);
  std::copy_n(mark.file.begin(), mark.state.size(), mark.state.begin());  // as_made
  return mark;
}

bool as_made(const Mark& mark) {
  return std::equal(mark.state.begin(), mark.state.end(), mark.file.begin());
}

Mark in_next_state(Mark mark) {
  const auto before = mark.state;
  while (mark.state == before || as_made(mark)) {
    draw(mark.state);
    mark.state[0] &= static_cast<unsigned char>(~midst_bit);
  }
  return mark;
}

std::uint32_t big_endian(const unsigned char* four) {
  return std::uint32_t{four[0]} << 24 | std::uint32_t{four[1]} << 16 | std::uint32_t{four[2]} << 8 |
         std::uint32_t{four[3]};
}

void put_big_endian(std::uint32_t number, unsigned char* four) {
  for (int i = 0; i < 4; ++i) four[i] = static_cast<unsigned char>(number >> (24 - 8 * i));
}

Head head_in(const unsigned char* page) {
  Head head;
  head.database = std::memcmp(page, "SQLite format 3", 16) == 0;  // with its zero
  head.write_ahead = page[18] == 2 || page[19] == 2;
  head.counter = big_endian(page + counter_at);
  if (!head.database) return head;
  head.mark = mark_in(page);
  constexpr std::uint32_t most = 65536;  // kept as 1
  const std::uint32_t size = std::uint32_t{page[16]} << 8 | page[17];
  head.page_size = size == 1 ? most : size;
  head.reserved = page[20];
  constexpr int version_at = 60;
  constexpr int application_at = 68;
  head.to_be_sealed = big_endian(page + application_at) == application_id &&
                      (head.reserved == seal_size || big_endian(page + version_at) >= sealed_since);
  head.in_the_midst = head.to_be_sealed && (page[midst_at] & midst_bit) != 0;
  return head;
}

bool Head::has_seals() const { return database && reserved == seal_size && page_size >= 512; }

}  // namespace plumule::logbook
