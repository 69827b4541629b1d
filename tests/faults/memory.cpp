#include "faults/memory.hpp"

#include <malloc.h>
#include <sqlite3.h>

#include <cstdlib>
#include <new>

namespace plumule::tests {
namespace {

int made = 0, failing = 0;
std::size_t lasting_from = 0;
bool counting = false;

bool none_left(std::size_t size) {
  if (!counting) return false;
  ++made;
  return made == failing ||
         (failing > 0 && made > failing && lasting_from > 0 && size >= lasting_from);
}

void* sqlite_take(int size) {
  return none_left(static_cast<std::size_t>(size)) ? nullptr
                                                   : std::malloc(static_cast<std::size_t>(size));
}
void sqlite_give(void* piece) { std::free(piece); }
void* sqlite_resize(void* piece, int size) {
  return none_left(static_cast<std::size_t>(size))
             ? nullptr
             : std::realloc(piece, static_cast<std::size_t>(size));
}
int sqlite_size(void* piece) { return static_cast<int>(::malloc_usable_size(piece)); }
int sqlite_round(int size) { return (size + 7) / 8 * 8; }
int sqlite_begin(void*) { return SQLITE_OK; }
void sqlite_end(void*) {}

}  // namespace

void take_over_memory() {
  static const sqlite3_mem_methods methods = {sqlite_take, sqlite_give,  sqlite_resize,
                                              sqlite_size, sqlite_round, sqlite_begin,
                                              sqlite_end,  nullptr};
  if (sqlite3_config(SQLITE_CONFIG_MALLOC, &methods) != SQLITE_OK) std::abort();
}

void fail_allocation(int at, std::size_t lasting) {
  made = 0;
  failing = at;
  lasting_from = lasting;
  counting = true;
}

int allocations() {
  counting = false;
  return made;
}

}  // namespace plumule::tests

void* operator new(std::size_t size) {
  void* const piece = plumule::tests::none_left(size) ? nullptr : std::malloc(size == 0 ? 1 : size);
  if (piece == nullptr) throw std::bad_alloc();
  return piece;
}
void operator delete(void* piece) noexcept { std::free(piece); }
void operator delete(void* piece, std::size_t) noexcept { std::free(piece); }
