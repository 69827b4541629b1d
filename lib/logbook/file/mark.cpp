#include "logbook/file/mark.hpp"

#include <sys/random.h>

#include <algorithm>
#include <cstring>
#include <random>
#include <span>

#include "logbook/file/descriptor.hpp"

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
  return mark;
}

void put_mark(const Mark& mark, unsigned char* page) {
  std::copy(mark.file.begin(), mark.file.end(), page + mark_at);
  std::copy(mark.state.begin(), mark.state.end(), page + mark_at + mark.file.size());
}

Mark fresh_mark() {
  Mark mark;
  draw(mark.file);
  draw(mark.state);
  return mark;
}

Mark in_next_state(Mark mark) {
  const auto before = mark.state;
  while (mark.state == before) draw(mark.state);
  return mark;
}

bool lay_mark(const std::string& path) {
  const Descriptor file(path, O_WRONLY);
  if (!file) return false;
  unsigned char page[head_size] = {};
  put_mark(fresh_mark(), page);
  return ::pwrite(file.number(), page + mark_at, mark_size, mark_at) == mark_size;
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
  if (head.database) head.mark = mark_in(page);
  return head;
}

}  // namespace plumule::logbook
