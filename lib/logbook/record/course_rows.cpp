#include "logbook/record/course_rows.hpp"

#include <algorithm>

namespace plumule::logbook {

records::Entered entered_in(const Query& row, int column) {
  records::Entered entered;
  entered.kind = static_cast<records::CountKind>(row.integer(column));
  entered.value = row.integer(column + 1);
  entered.high = row.maybe_integer(column + 2);
  entered.lost = row.maybe_integer(column + 3).value_or(0);
  entered.seedlings = row.maybe_integer(column + 4);
  return entered;
}

std::vector<CountRow> read_course(Store& store, records::Id sowing) {
  std::vector<CountRow> rows;
  Query find(store,
             "select c.at, c.timed, c.kind, c.value, c.high, c.lost, c.seedlings, c.total, "
             "c.person, p.name, c.entry from counts c left join people p on p.id = c.person "
             "where c.sowing = ? order by c.at",
             sowing);
  while (find.next()) {
    CountRow& row = rows.emplace_back();
    row.count.at = records::Moment::from_minutes(find.integer(0), find.integer(1) != 0);
    row.count.entered = entered_in(find, 2);
    row.count.total = find.integer(7);
    row.person = find.maybe_integer(8);
    row.count.by = find.text(9);
    row.entry = find.integer(10);
  }
  return rows;
}

void write_course(Store& store, records::Id sowing, const std::vector<CountRow>& was,
                  const std::vector<CountRow>& now) {
  const auto [first_was, first_now] = std::mismatch(was.begin(), was.end(), now.begin(), now.end());
  const auto head = static_cast<std::size_t>(first_was - was.begin());
  std::size_t tail = 0;
  while (tail < was.size() - head && tail < now.size() - head &&
         was[was.size() - 1 - tail] == now[now.size() - 1 - tail])
    ++tail;
  for (std::size_t i = head; i < was.size() - tail; ++i)
    Query(store, "delete from counts where sowing = ? and at = ?", sowing,
          was[i].count.at.minutes())
        .run();
  for (std::size_t i = head; i < now.size() - tail; ++i) {
    const records::Count& count = now[i].count;
    const records::Entered& entered = count.entered;
    const bool standing = entered.kind == records::CountKind::standing;
    Query(store,
          "insert into counts (sowing, at, timed, kind, value, high, lost, seedlings, total, "
          "person, entry) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
          sowing, count.at.minutes(), count.at.minute_of_day.has_value(),
          static_cast<int>(entered.kind), entered.value, entered.high,
          standing ? std::optional<std::int64_t>(entered.lost) : std::nullopt, entered.seedlings,
          count.total, now[i].person, now[i].entry)
        .run();
  }
}

Row image_of(records::Id sowing, const CountRow& row) {
  const auto maybe = [](const std::optional<std::int64_t>& value) {
    return value ? Value(*value) : Value();
  };
  const records::Entered& entered = row.count.entered;
  const bool standing = entered.kind == records::CountKind::standing;
  return Row{{"sowing", sowing},
             {"at", row.count.at.minutes()},
             {"timed", std::int64_t{row.count.at.minute_of_day.has_value()}},
             {"kind", static_cast<std::int64_t>(entered.kind)},
             {"value", entered.value},
             {"high", maybe(entered.high)},
             {"lost", standing ? Value(entered.lost) : Value()},
             {"seedlings", maybe(entered.seedlings)},
             {"person", maybe(row.person)},
             {"entry", row.entry}};
}

std::vector<records::Count> counts_in(const std::vector<CountRow>& rows) {
  std::vector<records::Count> counts;
  counts.reserve(rows.size());
  for (const CountRow& row : rows) counts.push_back(row.count);
  return counts;
}

}  // namespace plumule::logbook
