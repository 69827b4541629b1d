#include "logbook/journal/journal.hpp"

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"
#include "records/count.hpp"

namespace plumule::logbook {
namespace {

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

std::vector<std::string> blind_counts(Store& store, records::Id entry) {
  std::vector<std::string> labels;
  Query find(store,
             "select s.label from sowings s join trials t on t.id = s.trial where t.blind and ("
             "exists (select 1 from counts c where c.sowing = s.id and c.entry = ?1) or exists ("
             "select 1 from doubtful_counts d where d.sowing = s.id and d.entry = ?1) or exists ("
             "select 1 from second_readings r where r.sowing = s.id and r.entry = ?1) or exists ("
             "select 1 from changes h where h.entry = ?1 and h.tab = 'counts' and "
             "json_extract(h.key, '$.sowing') = s.id)) order by s.label collate by_label",
             entry);
  while (find.next()) labels.push_back(find.text(0));
  return labels;
}

}  // namespace

std::vector<JournalLine> journal(Logbook& logbook, std::size_t limit) {
  std::vector<JournalLine> lines;
  Query find(logbook.store(),
             "select id, at, by, command, summary, undone_at from journal order by id desc limit ?",
             static_cast<std::int64_t>(limit));
  while (find.next())
    lines.push_back({find.integer(0),
                     find.text(1),
                     find.text(2),
                     find.text(3),
                     find.text(4),
                     !find.null(5),
                     {}});
  if (Query(logbook.store(), "select 1 from trials where blind").next())
    for (JournalLine& line : lines)
      if (line.command.starts_with("plumule count") || line.command.starts_with("plumule amend"))
        line.blind_counts = blind_counts(logbook.store(), line.id);
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
