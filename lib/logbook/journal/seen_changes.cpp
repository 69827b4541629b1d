#include "logbook/journal/seen_changes.hpp"

#include <string_view>

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {
namespace {

std::string said(const Row& row, std::string_view column) {
  for (const auto& [name, value] : row) {
    if (name != column) continue;
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    if (const auto* whole = std::get_if<std::int64_t>(&value)) return std::to_string(*whole);
  }
  return {};
}

// Of what changed: "81 C", "lowest 8 C, highest 24 C", "3 rotted", the words of a note, a day.
std::string in_words(const Row& row, records::Degrees shown_in) {
  if (const std::string outcome = said(row, "outcome"); !outcome.empty())
    return said(row, "units") + ' ' + outcome;
  std::string words = said(row, "text");
  const auto add = [&](const char* before, const std::string& part) {
    if (!part.empty()) words += (words.empty() ? "" : ", ") + (before + part);
  };
  const auto degrees = [&](std::string_view name) {
    const Value* value = column(row, name);
    const auto* celsius = value == nullptr ? nullptr : std::get_if<double>(value);
    return celsius == nullptr ? std::string() : records::shown_temperature(*celsius, shown_in);
  };
  add("", degrees("spot_c"));
  add("lowest ", degrees("min_c"));
  add("highest ", degrees("max_c"));
  if (!words.empty()) return words;
  add("", said(row, "day"));
  add("", said(row, "time"));
  return words;
}

// What a command put in the place of the assessment it took out, also where that went since.
std::string put_instead(Store& store, records::Id sowing, records::Id entry) {
  Query find(store,
             "select units, outcome from assessments where sowing = ?1 and entry = ?2 union all "
             "select json_extract(before, '$.units'), json_extract(before, '$.outcome') from "
             "changes where tab = 'assessments' and json_extract(before, '$.sowing') = ?1 and "
             "json_extract(before, '$.entry') = ?2 limit 1",
             sowing, entry);
  return find.next() ? find.text(0) + ' ' + find.text(1) : std::string();
}

}  // namespace

std::vector<FieldChange> seen_changes(Logbook& logbook, const records::Sowing& sowing,
                                      records::Degrees shown_in) {
  Store& store = logbook.store();
  // A row that went stands whole in `before`; of one that stands only what differs is there. Of one
  // that went since, its going says what it was: another may bear its id now.
  Query find(
      store,
      "select j.at, j.by, c.tab, c.before, c.after, j.id, coalesce(json_extract(c.before, "
      "'$.day'), t.day, n.day) from changes c join journal j on j.id = c.entry "
      "left join temperatures t on c.tab = 'temperatures' and c.after is not null and t.id = "
      "json_extract(c.key, '$.id') "
      "left join notes n on c.tab = 'notes' and c.after is not null and n.id = "
      "json_extract(c.key, '$.id') "
      "where c.undone = 0 and j.undone_at is null and case c.tab "
      "when 'assessments' then json_extract(c.before, '$.sowing') = ?1 "
      "when 'temperatures' then ifnull(coalesce(t.sowing, json_extract(c.before, '$.sowing')) = "
      "?1, 0) or coalesce(t.place, json_extract(c.before, '$.place')) = ?2 collate nocase "
      "when 'notes' then coalesce(n.about, json_extract(c.before, '$.about')) = 'sowing' and "
      "coalesce(n.of, json_extract(c.before, '$.of')) = ?1 end "
      "and (c.after is null or not exists (select 1 from changes g join journal k on k.id = "
      "g.entry where g.tab = c.tab and g.key = c.key and g.after is null and g.undone = 0 and "
      "k.undone_at is null and (g.entry, g.seq) > (c.entry, c.seq))) order by c.entry, c.seq",
      sowing.id, sowing.place);
  std::vector<FieldChange> all;
  while (find.next()) {
    const std::string table = find.text(2);
    FieldChange& one = all.emplace_back();
    one.at = find.text(0);
    one.by = find.text(1);
    one.entry = find.integer(5);
    one.field = (table == "assessments"    ? "assessed "
                 : table == "temperatures" ? "temperature of "
                                           : "note of ") +
                find.text(6);
    one.before = in_words(from_json(find.text(3)), shown_in);
    if (!find.null(4))
      one.after = in_words(from_json(find.text(4)), shown_in);
    else if (table == "assessments")
      one.after = put_instead(store, sowing.id, one.entry);
  }
  return all;
}

}  // namespace plumule::logbook
