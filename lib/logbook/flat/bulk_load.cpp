#include "logbook/flat/bulk_load.hpp"

#include <sqlite3.h>

#include <limits>

#include "logbook/store/scan.hpp"
#include "logbook/upkeep/migrations.hpp"

namespace plumule::logbook {
namespace {

void look_up_references(Store& store, bool on) {
  sqlite3_db_config(store.database().getHandle(), SQLITE_DBCONFIG_ENABLE_FKEY, on ? 1 : 0, nullptr);
}

// What the guards ask of a sowing.
struct Bounds {
  std::int64_t id = std::numeric_limits<std::int64_t>::min();
  std::int64_t units = 0;  // the most there can be, where not known
  std::int64_t sown_day = 0;
  std::int64_t sown_at = 0;  // long before, where no time of day is known
  std::int64_t ended_day = 0;
  bool taken_out = false;

  // The next sowing in order of id; false after the last.
  bool next(Scan& sowings) {
    if (!sowings.next()) return false;
    constexpr auto least = std::numeric_limits<std::int64_t>::min();
    constexpr auto most = std::numeric_limits<std::int64_t>::max();
    id = sowings.integer(0);
    units = sowings.maybe_integer(1).value_or(most);
    sown_day = sowings.integer(2);
    sown_at = sowings.maybe_integer(3).value_or(least);
    ended_day = sowings.maybe_integer(4).value_or(most);
    taken_out = sowings.integer(5) != 0;
    return true;
  }
};

}  // namespace

bool counts_are_sound(Store& store) {
  Scan sowings(store,
               "select id, units, unixepoch(sown_on) / 86400, unixepoch(sown_on || 'T' || "
               "sown_time) / 60, unixepoch(ended_on) / 86400, taken_out from sowings order by id");
  Scan counts(store, "select sowing, at, timed, kind, total, high from counts order by sowing, at");
  Bounds of;
  std::int64_t before = 0;
  while (counts.next()) {
    const std::int64_t sowing = counts.integer(0);
    if (sowing != of.id) before = 0;
    while (of.id < sowing)
      if (!of.next(sowings)) return false;
    if (of.id != sowing) return false;
    const std::int64_t at = counts.integer(1);
    const std::int64_t day = at >= 0 ? at / 1440 : -((1439 - at) / 1440);
    const bool timed = counts.integer(2) != 0;
    const std::int64_t kind = counts.integer(3);
    const std::int64_t total = counts.integer(4);
    const std::int64_t high = counts.integer(5) + (kind == 0 ? 0 : before);
    if (day < of.sown_day || (timed && at < of.sown_at) || day > of.ended_day) return false;
    if (total < before || (total > 0 && day <= of.sown_day)) return false;
    if (total > of.units || high > of.units) return false;
    if (of.taken_out && (kind == 0 || kind == 2)) return false;
    before = total;
  }
  return true;
}

bool assessments_are_sound(Store& store) {
  return !Query(store,
                "select 1 from (select sowing, sum(units) as found from assessments group by "
                "sowing) a join sowings s on s.id = a.sowing where a.found > s.units - coalesce("
                "(select max(c.total) from counts c where c.sowing = s.id), 0)")
              .next();
}

BulkLoad::BulkLoad(Store& store) : store_(store) {
  lift_guards(store);
  look_up_references(store, false);
}

BulkLoad::~BulkLoad() { look_up_references(store_, true); }

bool BulkLoad::lay() {
  look_up_references(store_, true);
  for (const char* table : {"lots", "lot_parents", "batches", "blocks", "inspections", "sowings",
                            "temperatures", "notes"})
    if (Query(store_, "select 1 from pragma_foreign_key_check(?)", table).next()) return false;
  if (!counts_are_sound(store_) || !assessments_are_sound(store_)) return false;
  lay_guards(store_);
  return true;
}

}  // namespace plumule::logbook
