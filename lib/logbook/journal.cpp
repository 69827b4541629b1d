#include "logbook/journal.hpp"

#include "logbook/ledger.hpp"
#include "logbook/store.hpp"
#include "records/count.hpp"

namespace plumule::logbook {
namespace {

const Value* column(const Row& row, std::string_view name) {
  for (const auto& [key, value] : row)
    if (key == name) return &value;
  return nullptr;
}

std::optional<std::int64_t> number(const Row& row, std::string_view name) {
  const Value* value = column(row, name);
  if (!value || !std::holds_alternative<std::int64_t>(*value)) return std::nullopt;
  return std::get<std::int64_t>(*value);
}

// "Mon 6 Apr: 14 up in all".
std::string count_in_words(const Row& row) {
  records::Entered entered;
  entered.kind = static_cast<records::CountKind>(number(row, "kind").value_or(0));
  entered.value = number(row, "value").value_or(0);
  entered.high = number(row, "high");
  entered.lost = number(row, "lost").value_or(0);
  entered.seedlings = number(row, "seedlings");
  const auto at = records::Moment::from_minutes(number(row, "at").value_or(0),
                                                number(row, "timed").value_or(0) != 0);
  std::string text = records::spoken(at.date);
  if (at.minute_of_day) text += ' ' + records::to_text(at).substr(11);
  return text + ": " + in_words(entered);
}

}  // namespace

std::vector<JournalLine> journal(Logbook& logbook, std::size_t limit) {
  std::vector<JournalLine> lines;
  Query find(logbook.store(),
             "select id, at, by, command, summary, undone_at from journal order by id desc limit ?",
             static_cast<std::int64_t>(limit));
  while (find.next())
    lines.push_back(
        {find.integer(0), find.text(1), find.text(2), find.text(3), find.text(4), !find.null(5)});
  return lines;
}

std::vector<Correction> corrections_of(Logbook& logbook, records::Id sowing) {
  std::vector<Correction> corrections;
  Query find(
      logbook.store(),
      "select j.at, j.by, c.before, c.after, j.id from changes c join journal j on j.id = c.entry "
      "where c.tab = 'counts' and c.undone = 0 and j.undone_at is null "
      "and json_extract(c.key, '$.sowing') = ? order by c.entry, c.seq",
      sowing);
  while (find.next()) {
    Correction& correction = corrections.emplace_back();
    correction.at = find.text(0);
    correction.by = find.text(1);
    correction.entry = find.integer(4);
    correction.before = count_in_words(from_json(find.text(2)));
    correction.after = find.null(3) ? "taken out" : count_in_words(from_json(find.text(3)));
  }
  return corrections;
}

}  // namespace plumule::logbook
