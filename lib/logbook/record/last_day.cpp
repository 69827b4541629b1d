#include "logbook/record/last_day.hpp"

#include "logbook/journal/first_count.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {
namespace {

using records::Date;

struct Before {
  std::optional<Date> last_day;
  Date changed{};
};

// What the last day was before the first of the changes made after that entry.
std::optional<Before> closes_on_before(Store& store, records::Id trial, std::int64_t entry) {
  Query find(store,
             "select json_extract(c.before, '$.closes_on'), coalesce(j.day, substr(j.at, 1, 10)) "
             "from changes c "
             "join journal j on j.id = c.entry where c.tab = 'trials' and c.undone = 0 and "
             "j.undone_at is null and json_extract(c.key, '$.id') = ?1 and c.entry > ?2 and "
             "json_type(c.after, '$.closes_on') is not null order by c.entry, c.seq limit 1",
             trial, entry);
  if (!find.next()) return std::nullopt;
  return Before{find.maybe_date(0), find.date(1)};
}

// The inspections that stood then: those of before that still stand, and those taken out since.
std::optional<Before> inspections_before(Store& store, records::Id trial, std::int64_t entry) {
  Query find(store,
             "select max(day), min(changed) from ("
             "select i.day as day, null as changed from inspections i where i.trial = ?1 and "
             "i.entry <= ?2 union all "
             "select null, coalesce(j.day, substr(j.at, 1, 10)) from inspections i join journal j "
             "on j.id = i.entry "
             "where i.trial = ?1 and i.entry > ?2 union all "
             "select json_extract(c.before, '$.day'), coalesce(j.day, substr(j.at, 1, 10)) from "
             "changes c join "
             "journal j on j.id = c.entry where c.tab = 'inspections' and c.undone = 0 and "
             "j.undone_at is null and c.entry > ?2 and json_extract(c.before, '$.trial') = ?1 and "
             "json_extract(c.before, '$.entry') <= ?2)",
             trial, entry);
  if (!find.next() || find.null(1)) return std::nullopt;
  return Before{find.maybe_date(0), find.date(1)};
}

}  // namespace

std::optional<records::LastDayMoved> last_day_moved(Logbook& logbook, const records::Trial& trial) {
  Store& store = logbook.store();
  const auto entry = first_count(store, trial.id);
  if (!entry) return std::nullopt;
  const auto closing = closes_on_before(store, trial.id, *entry);
  if (closing && closing->last_day)
    return records::LastDayMoved{closing->last_day, closing->changed};
  if (!closing && trial.closes_on) return std::nullopt;  // inspections do not matter beside it
  const auto looks = inspections_before(store, trial.id, *entry);
  if (looks) return records::LastDayMoved{looks->last_day, looks->changed};
  if (!closing) return std::nullopt;
  if (trial.inspections.empty()) return records::LastDayMoved{std::nullopt, closing->changed};
  return records::LastDayMoved{trial.inspections.back(), closing->changed};
}

}  // namespace plumule::logbook
