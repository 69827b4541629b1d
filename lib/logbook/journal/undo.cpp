// The record is then byte for byte as it was before the command; only the journal and the ledger of
// changes remember.
#include "logbook/journal/undo.hpp"

#include <map>
#include <set>

#include "logbook/journal/ledger.hpp"
#include "logbook/record/course_rows.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "logbook/store/store.hpp"
#include "logbook/store/utc.hpp"
#include "records/course.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

// Beyond this an entry is an import, whose rows its own file still holds.
constexpr std::int64_t most_kept_rows = 10'000;

struct Change {
  std::string table;
  Row key;
  Row before;
  bool taken_out = false;
};

std::vector<Change> changes_of(Store& store, records::Id entry) {
  std::vector<Change> changes;
  Query find(store,
             "select tab, key, before, after is null from changes where entry = ? and undone = 0 "
             "order by seq desc",
             entry);
  while (find.next())
    changes.push_back(
        {find.text(0), from_json(find.text(1)), from_json(find.text(2)), find.integer(3) != 0});
  return changes;
}

std::int64_t row_count(Store& store, records::Id entry) {
  std::int64_t rows = 0;
  for (const std::string& table : entry_tables()) {
    Query count(store, "select count(*) from " + table + " where entry = ?", entry);
    if (count.next()) rows += count.integer(0);
    if (rows > most_kept_rows) break;
  }
  return rows;
}

void keep_rows(Store& store, records::Id entry) {
  for (const std::string& table : entry_tables()) {
    std::vector<Row> rows;
    {
      Query find(store, "select * from " + table + " where entry = ?", entry);
      while (find.next()) rows.push_back(row_of(find));
    }
    for (const Row& row : rows)
      keep_change(store, entry, table, key_of(table, row), row, nullptr, true);
  }
}

// The courses that the entry touched, with the rows that will stand: without its own, and with
// what it amended or took out as it was.
using Courses = std::map<records::Id, std::vector<CountRow>>;

std::int64_t number(const Row& row, std::size_t at) {
  return std::get<std::int64_t>(row[at].second);
}

std::optional<std::int64_t> maybe(const Row& row, std::size_t at) {
  if (std::holds_alternative<std::monostate>(row[at].second)) return std::nullopt;
  return number(row, at);
}

CountRow row_in(const Row& image) {
  CountRow row;
  row.count.at = records::Moment::from_minutes(number(image, 1), number(image, 2) != 0);
  row.count.entered.kind = static_cast<records::CountKind>(number(image, 3));
  row.count.entered.value = number(image, 4);
  row.count.entered.high = maybe(image, 5);
  row.count.entered.lost = maybe(image, 6).value_or(0);
  row.count.entered.seedlings = maybe(image, 7);
  row.person = maybe(image, 8);
  row.entry = number(image, 9);
  return row;
}

Courses courses_before(Store& store, records::Id entry, const std::vector<Change>& changes) {
  std::set<records::Id> touched;
  {
    // Sowings that came with the entry go whole; their courses need no care.
    Query find(store,
               "select distinct c.sowing from counts c join sowings s on s.id = c.sowing "
               "where c.entry = ?1 and s.entry <> ?1",
               entry);
    while (find.next()) touched.insert(find.integer(0));
  }
  for (const Change& change : changes)
    if (change.table == "counts") touched.insert(number(change.key, 0));
  Courses courses;
  for (const records::Id sowing : touched) {
    std::vector<CountRow>& course = courses[sowing];
    for (CountRow& row : read_course(store, sowing))
      if (row.entry != entry) course.push_back(std::move(row));
  }
  for (const Change& change : changes) {
    if (change.table != "counts") continue;
    const auto found = courses.find(number(change.key, 0));
    CountRow row = row_in(change.before);
    auto& course = found->second;
    auto place = course.begin();
    while (place != course.end() && place->count.at < row.count.at) ++place;
    if (place != course.end() && place->count.at.minutes() == row.count.at.minutes())
      *place = std::move(row);
    else if (row.entry != entry)
      course.insert(place, std::move(row));
  }
  return courses;
}

// The part of a course that will not stand as it is goes first, so that no guard sees a state in
// between; it comes again once everything else is as it was.
void take_courses_out(Store& store, Courses& courses) {
  for (const auto& [sowing, course] : courses)
    Query(store, "delete from counts where sowing = ?", sowing).run();
}

void put_courses_back(Logbook& logbook, const Courses& courses) {
  Store& store = logbook.store();
  for (const auto& [id, rows] : courses) {
    if (rows.empty()) continue;
    const records::Sowing sowing = sowing_by_id(logbook, id);
    std::vector<CountRow> now = rows;
    std::vector<records::Count> counts = counts_in(now);
    if (derive(sowing, counts))
      throw Unusable(store.path() + " is damaged: the counts of " + sowing.label +
                         " do not follow from what was entered, so nothing was taken back.",
                     to_a_backup(store.path()));
    for (std::size_t i = 0; i < now.size(); ++i) now[i].count.total = counts[i].total;
    write_course(store, id, {}, now);
  }
}

// Whether the entry had itself put in the row that it took out again.
bool own_row(const Change& change, records::Id entry) {
  for (const auto& [column, value] : change.before)
    if (column == "entry") return value == Value(entry);
  return false;
}

void put_changes_back(Store& store, records::Id entry, const std::vector<Change>& changes) {
  for (const Change& change : changes) {
    if (change.table == "counts") continue;
    if (!change.taken_out)
      set_row(store, change.table, change.key, change.before);
    else if (!own_row(change, entry))
      put_row(store, change.table, change.before);
  }
}

JournalLine last_standing(Store& store) {
  Query find(store,
             "select id, at, by, command, summary from journal where undone_at is null "
             "order by id desc limit 1");
  if (!find.next()) throw records::Refused("There is nothing to take back.");
  return {find.integer(0), find.text(1), find.text(2), find.text(3), find.text(4), true};
}

JournalLine take_back(Logbook& logbook, const std::string& by, const std::string& of) {
  Store& store = logbook.store();
  JournalLine line = last_standing(store);
  if (!of.empty() && !line.by.empty() && line.by != of) {
    throw records::Refused("The last command is " + line.by + "'s: " + line.summary + '.',
                           {{records::Advice::undo_of, line.by}});
  }
  const std::vector<Change> changes = changes_of(store, line.id);
  Courses courses = courses_before(store, line.id, changes);
  if (row_count(store, line.id) <= most_kept_rows) keep_rows(store, line.id);
  // Rows go and come in an order of their own; that they fit together is checked at the end.
  store.run("pragma defer_foreign_keys = on");
  take_courses_out(store, courses);
  for (const std::string& table : entry_tables())
    Query(store, "delete from " + table + " where entry = ?", line.id).run();
  put_changes_back(store, line.id, changes);
  put_courses_back(logbook, courses);
  Query(store, "update journal set undone_at = ?, undone_by = ? where id = ?", utc_now(), by,
        line.id)
      .run();
  return line;
}

}  // namespace

JournalLine undo(Logbook& logbook, const std::string& by, const std::string& of) {
  Store& store = logbook.store();
  if (!store.writable)
    throw Unusable(store.path() + " was opened to be read only; nothing can be taken back in it.");
  WriteTransaction all(store);
  JournalLine line = take_back(logbook, by, of);
  all.commit();
  return line;
}

}  // namespace plumule::logbook
