#include "fuzz/sqlite_memory.hpp"

#include <sanitizer/asan_interface.h>
#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdlib>
#include <cstring>

namespace plumule::tests {
namespace {

// What stands before each piece.
struct alignas(16) Head {
  int size;           // bytes that were asked for
  unsigned capacity;  // bytes that there are: a power of two
  Head* next;         // of those that were given back
};

constexpr unsigned least = 32, most = 128 * 1024;  // bytes of a piece; larger ones are malloc's
constexpr std::size_t slab = std::size_t{4} * 1024 * 1024;

std::array<Head*, 32> given_back;  // by the logarithm of their capacity
char* unused = nullptr;
std::size_t left = 0;

void* piece_of(Head* head) { return head + 1; }
Head* head_of(void* piece) { return static_cast<Head*>(piece) - 1; }

// Of a slab, which is never given back; null where there is no memory.
Head* fresh(unsigned capacity) {
  const std::size_t bytes = sizeof(Head) + capacity;
  if (left < bytes) {
    unused = static_cast<char*>(std::malloc(slab));
    left = unused != nullptr ? slab : 0;
    if (unused == nullptr) return nullptr;
    ASAN_POISON_MEMORY_REGION(unused, slab);
  }
  auto* const head = reinterpret_cast<Head*>(unused);
  unused += bytes;
  left -= bytes;
  return head;
}

void* give(int size) {
  const unsigned capacity = std::max(std::bit_ceil(static_cast<unsigned>(size)), least);
  Head* head = nullptr;
  if (capacity > most) {
    head = static_cast<Head*>(std::malloc(sizeof(Head) + static_cast<std::size_t>(size)));
  } else if (Head*& first = given_back[static_cast<std::size_t>(std::countr_zero(capacity))]) {
    head = first;
    first = head->next;
  } else {
    head = fresh(capacity);
  }
  if (head == nullptr) return nullptr;
  ASAN_UNPOISON_MEMORY_REGION(head, sizeof(Head) + static_cast<std::size_t>(size));
  *head = {size, capacity, nullptr};
  return piece_of(head);
}

void take(void* piece) {
  if (piece == nullptr) return;
  Head* const head = head_of(piece);
  if (head->capacity > most) return std::free(head);
  Head*& first = given_back[static_cast<std::size_t>(std::countr_zero(head->capacity))];
  head->next = first;
  first = head;
  ASAN_POISON_MEMORY_REGION(piece, head->capacity);
}

int size_of(void* piece) { return piece == nullptr ? 0 : head_of(piece)->size; }

void* resize(void* piece, int size) {
  Head* const head = head_of(piece);
  if (head->capacity <= most && static_cast<unsigned>(size) <= head->capacity) {
    ASAN_POISON_MEMORY_REGION(piece, head->capacity);
    ASAN_UNPOISON_MEMORY_REGION(piece, static_cast<std::size_t>(size));
    head->size = size;
    return piece;
  }
  void* const wider = give(size);
  if (wider == nullptr) return nullptr;
  std::memcpy(wider, piece, static_cast<std::size_t>(std::min(head->size, size)));
  take(piece);
  return wider;
}

}  // namespace

void give_sqlite_its_own_memory() {
  sqlite3_mem_methods methods = {
      give,
      take,
      resize,
      size_of,
      [](int size) { return (size + 7) / 8 * 8; },
      [](void*) { return SQLITE_OK; },
      [](void*) {},
      nullptr,
  };
  if (sqlite3_config(SQLITE_CONFIG_MALLOC, &methods) != SQLITE_OK) std::abort();
  sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
}

}  // namespace plumule::tests
