#include "logbook/upkeep/structure.hpp"

#include <sqlite3.h>

#include <cerrno>
#include <charconv>
#include <new>
#include <string_view>

#include "logbook/logbook.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {
namespace {

// What kept SQLite from looking at a page, where that was no damage: the kind of its code, which it
// says among what it found; 0 where it was able to look.
int trouble_in(const std::string& said) {
  constexpr std::string_view words = "error code=";
  const std::size_t at = said.find(words);
  if (at == std::string::npos) return 0;
  int code = 0;
  std::from_chars(said.data() + at + words.size(), said.data() + said.size(), code);
  if (code == SQLITE_IOERR_DATA) return 0;  // it was read, and is not as it was written
  if (code == SQLITE_IOERR_NOMEM) return SQLITE_NOMEM;
  return code & 0xff;
}

}  // namespace

void refuse_if_hindered(Store& store, const std::string& said) {
  const int kind = trouble_in(said);
  if (kind == SQLITE_NOMEM) throw std::bad_alloc();
  if (kind == SQLITE_IOERR)
    throw Hindered(Hindered::By::reading,
                   store.path() + " could not be read: " + disk_trouble(EIO) + '.');
}

bool is_sound(Store& store) {
  Query check(store, "pragma integrity_check(1)");
  if (!check.next()) return false;
  const std::string said = check.text(0);
  if (said != "ok") refuse_if_hindered(store, said);
  return said == "ok";
}

}  // namespace plumule::logbook
