#include "logbook/record/aside.hpp"

#include "logbook/journal/ledger.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/course_rows.hpp"
#include "logbook/record/course_write.hpp"
#include "logbook/record/people.hpp"
#include "logbook/record/sowings.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Count;
using records::Refused;
using records::SetAside;

std::vector<SetAside> aside(Store& store, const std::string& table, const std::string& why,
                            const std::string& where, records::Id value) {
  std::vector<SetAside> found;
  Query find(store,
             "select a.id, a.at, a.timed, a.kind, a.value, a.high, a.lost, a.seedlings, p.name, " +
                 why + " from " + table + " a left join people p on p.id = a.person where " +
                 where + " = ? and a.settled is null order by a.at, a.id",
             value);
  while (find.next()) {
    SetAside& one = found.emplace_back();
    one.id = find.integer(0);
    one.count.at = records::Moment::from_minutes(find.integer(1), find.integer(2) != 0);
    one.count.entered = entered_in(find, 3);
    one.count.by = find.text(8);
    one.why = find.text(9);
  }
  return found;
}

records::Id keep(Entry& entry, const std::string& table, const records::Sowing& sowing,
                 const Count& count, const std::string* why) {
  Store& store = entry.logbook().store();
  const records::Entered& entered = count.entered;
  const bool standing = entered.kind == records::CountKind::standing;
  const auto who = person(entry, count.by);
  Query put(store,
            "insert into " + table +
                " (sowing, at, timed, kind, value, high, lost, seedlings, person, entry" +
                (why ? ", why) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
                     : ") values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"),
            sowing.id, count.at.minutes(), count.at.minute_of_day.has_value(),
            static_cast<int>(entered.kind), entered.value, entered.high,
            standing ? std::optional(entered.lost) : std::nullopt, entered.seedlings, who,
            entry.id());
  if (why) put.bind(*why);
  put.run();
  return store.database().getLastInsertRowid();
}

// The kept reading becomes the count of its moment.
void put_in_course(Entry& entry, records::Id sowing_id, const Count& count) {
  const records::Sowing sowing = sowing_by_id(entry.logbook(), sowing_id);
  const auto was = read_course(entry.logbook().store(), sowing_id);
  auto now = was;
  const auto place = place_of(now, count.at);
  const auto index = static_cast<std::size_t>(place - now.begin());
  const bool stands = place != now.end() && place->count.at.minutes() == count.at.minutes();
  if (stands)
    place->count.entered = count.entered;
  else
    now.insert(place, CountRow{count, std::nullopt, 0});
  // It was looked at twice before it is kept: what it lost need not have stood at the look before.
  judge_course(entry, sowing, was, now, index, count.entered.lost);
  now[index].count.by = count.by;
  now[index].person = person(entry, count.by);
  if (stands)
    keep_count_change(entry, sowing_id, was[index], &now[index]);
  else
    now[index].entry = entry.id();
  write_course(entry.logbook().store(), sowing_id, was, now);
}

void settle(Entry& entry, const std::string& table, const std::string& why, records::Id id,
            Settled how) {
  Store& store = entry.logbook().store();
  const auto found = aside(store, table, why, "a.id", id);
  if (found.empty()) throw Refused("There is no such reading left to settle.");
  records::Id sowing = 0;
  {
    Query find(store, "select sowing from " + table + " where id = ?", id);
    if (find.next()) sowing = find.integer(0);
  }
  if (how == Settled::kept) put_in_course(entry, sowing, found[0].count);
  RowChange change(entry, table, id);
  change.set("settled", std::string(how == Settled::kept ? "kept" : "dropped"));
  change.save();
}

}  // namespace

records::Id keep_doubtful(Entry& entry, const records::Sowing& sowing, const Count& count,
                          const std::string& why) {
  refuse_future_count(entry, sowing, count);
  for (const SetAside& kept : doubtful_of(entry.logbook(), sowing.id))
    if (kept.count.at == count.at && kept.count.entered == count.entered) return kept.id;
  return keep(entry, "doubtful_counts", sowing, count, &why);
}

bool keep_second_reading(Entry& entry, const records::Sowing& sowing, const Count& count) {
  for (const SetAside& kept : second_readings_of(entry.logbook(), sowing.id))
    if (kept.count.at == count.at && kept.count.entered == count.entered &&
        kept.count.by == count.by)
      return false;
  keep(entry, "second_readings", sowing, count, nullptr);
  return true;
}

void keep_count_change(Entry& entry, records::Id sowing, const CountRow& before,
                       const CountRow* after) {
  const Row was = image_of(sowing, before);
  Row now;
  if (after) now = image_of(sowing, *after);
  keep_change(entry.logbook().store(), entry.id(), "counts", key_of("counts", was), was,
              after ? &now : nullptr);
}

void settle_doubtful(Entry& entry, records::Id doubtful, Settled how) {
  settle(entry, "doubtful_counts", "a.why", doubtful, how);
}

void settle_second_reading(Entry& entry, records::Id reading, Settled how) {
  settle(entry, "second_readings", "null", reading, how);
}

std::vector<SetAside> doubtful_of(Logbook& logbook, records::Id sowing) {
  return aside(logbook.store(), "doubtful_counts", "a.why", "a.sowing", sowing);
}

std::vector<SetAside> second_readings_of(Logbook& logbook, records::Id sowing) {
  return aside(logbook.store(), "second_readings", "null", "a.sowing", sowing);
}

}  // namespace plumule::logbook
