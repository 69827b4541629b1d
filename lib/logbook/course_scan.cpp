#include "logbook/course_scan.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <new>

namespace plumule::logbook {
namespace {

struct Gathering {
  std::vector<records::Count>& counts;
  std::vector<std::pair<std::size_t, records::Id>> people;  // who counted, by place in `counts`
};

constexpr const char* pointer_kind = "plumule gathering";

std::optional<std::int64_t> maybe(sqlite3_value* value) {
  if (sqlite3_value_type(value) == SQLITE_NULL) return std::nullopt;
  return sqlite3_value_int64(value);
}

// Of each row: where to, at, timed, kind, value, high, lost, seedlings, total, person.
void gather(sqlite3_context* context, int /*unused*/, sqlite3_value** row) {
  auto* const into = static_cast<Gathering*>(sqlite3_value_pointer(row[0], pointer_kind));
  if (into == nullptr) return;  // called by a statement that is none of ours
  try {
    records::Count& count = into->counts.emplace_back();
    count.at = records::Moment::from_minutes(sqlite3_value_int64(row[1]),
                                             sqlite3_value_int64(row[2]) != 0);
    count.entered.kind = static_cast<records::CountKind>(sqlite3_value_int64(row[3]));
    count.entered.value = sqlite3_value_int64(row[4]);
    count.entered.high = maybe(row[5]);
    count.entered.lost = sqlite3_value_int64(row[6]);
    count.entered.seedlings = maybe(row[7]);
    count.total = sqlite3_value_int64(row[8]);
    if (const auto person = maybe(row[9]))
      into->people.emplace_back(into->counts.size() - 1, *person);
  } catch (const std::bad_alloc&) {
    sqlite3_result_error_nomem(context);
  }
}

void gathered(sqlite3_context* /*unused*/) {}

}  // namespace

void allow_gathering(sqlite3* database) {
  sqlite3_create_function_v2(database, "gather_count", 10, SQLITE_UTF8 | SQLITE_DIRECTONLY, nullptr,
                             nullptr, gather, gathered, nullptr);
}

CourseScan::CourseScan(Store& store)
    : store_(store),
      gather_(store,
              "select gather_count(?2, at, timed, kind, value, high, lost, seedlings, total, "
              "person) from counts where sowing = ?1") {}

void CourseScan::read(records::Id sowing, std::vector<records::Count>& counts) {
  counts.clear();
  counts.reserve(16);
  Gathering into{counts, {}};
  gather_.again();
  gather_.bind(sowing);
  gather_.bind_pointer(&into, pointer_kind);
  gather_.run();
  for (const auto& [place, person] : into.people) counts[place].by = name_of(person);
  // The rows lie in this order; nothing but that says so.
  const auto before = [](const records::Count& a, const records::Count& b) { return a.at < b.at; };
  if (!std::is_sorted(counts.begin(), counts.end(), before))
    std::sort(counts.begin(), counts.end(), before);
}

const std::string& CourseScan::name_of(records::Id person) {
  const auto [place, fresh] = people_.try_emplace(person);
  if (fresh) {
    Query find(store_, "select name from people where id = ?", person);
    if (find.next()) place->second = find.text(0);
  }
  return place->second;
}

}  // namespace plumule::logbook
