#include "logbook/record/course_scan.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <new>

namespace plumule::logbook {
namespace {

std::optional<std::int64_t> maybe(sqlite3_value* value) {
  if (sqlite3_value_type(value) == SQLITE_NULL) return std::nullopt;
  return sqlite3_value_int64(value);
}

// The last column first: SQLite then finds the places of all in one pass. Of each row: total, at,
// timed, kind, value, high, lost, seedlings.
void gather(sqlite3_context* context, int /*unused*/, sqlite3_value** row) {
  auto* const into = static_cast<Gathering*>(sqlite3_user_data(context))->into;
  if (into == nullptr) return;  // called by a statement that is none of ours
  try {
    records::Count& count = into->emplace_back();
    count.at = records::Moment::from_minutes(sqlite3_value_int64(row[1]),
                                             sqlite3_value_int64(row[2]) != 0);
    count.entered.kind = static_cast<records::CountKind>(sqlite3_value_int64(row[3]));
    count.entered.value = sqlite3_value_int64(row[4]);
    count.entered.high = maybe(row[5]);
    count.entered.lost = sqlite3_value_int64(row[6]);
    count.entered.seedlings = maybe(row[7]);
    count.total = sqlite3_value_int64(row[0]);
  } catch (const std::bad_alloc&) {
    sqlite3_result_error_nomem(context);
  }
}

void gathered(sqlite3_context* /*unused*/) {}

// Counts go there while it lives, also where a statement fails.
class Gathered {
 public:
  Gathered(Gathering& gathering, std::vector<records::Count>& into) : gathering_(gathering) {
    gathering_.into = &into;
  }
  Gathered(const Gathered&) = delete;
  Gathered& operator=(const Gathered&) = delete;
  ~Gathered() { gathering_.into = nullptr; }

 private:
  Gathering& gathering_;
};

}  // namespace

void allow_gathering(sqlite3* database, Gathering& gathering) {
  sqlite3_create_function_v2(database, "gather_count", 8, SQLITE_UTF8 | SQLITE_DIRECTONLY,
                             &gathering, nullptr, gather, gathered, nullptr);
}

CourseScan::CourseScan(Store& store)
    : store_(store),
      gather_(store,
              "select gather_count(total, at, timed, kind, value, high, lost, seedlings) from "
              "counts where sowing = ?") {}

void CourseScan::read(records::Id sowing, std::vector<records::Count>& counts) {
  counts.clear();
  counts.reserve(16);
  gather_.again();
  gather_.bind(sowing);
  {
    const Gathered into(store_.gathering, counts);
    gather_.run();
  }
  // The rows lie in this order; nothing but that says so.
  const auto before = [](const records::Count& a, const records::Count& b) { return a.at < b.at; };
  if (!std::is_sorted(counts.begin(), counts.end(), before))
    std::sort(counts.begin(), counts.end(), before);
}

}  // namespace plumule::logbook
