#include "logbook/record/observations.hpp"

#include "logbook/journal/ledger.hpp"
#include "logbook/record/people.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/store/store.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::logbook {
namespace {

using records::Assessment;
using records::Refused;
using records::Temperature;

std::string not_yet(records::Date on, records::Date today) {
  return records::spoken(on, true) + " has not come yet; today is " + records::spoken(today, true) +
         '.';
}

void refuse_wrong(const Entry& entry, const Temperature& temperature) {
  check(temperature);
  if (temperature.at.date > entry.today())
    throw Refused("A temperature: " + not_yet(temperature.at.date, entry.today()));
}

void refuse_wrong(const Entry& entry, const records::Note& note) {
  if (note.text.find_first_not_of(" \t\r\n") == std::string::npos)
    throw Refused("The note is empty. Write it after the name, in quotes.");
  if (note.on > entry.today()) throw Refused("A note: " + not_yet(note.on, entry.today()));
}

// Readings of one moment by kind, as an export and an import of it keep them.
constexpr const char* in_order =
    "order by e.day, e.time, e.spot_c is null, e.spot_c, e.min_c, e.max_c, e.id";

constexpr const char* select_temperature =
    "select e.id, e.sowing, e.place, e.day, e.time, e.spot_c, e.min_c, e.max_c, p.name "
    "from temperatures e left join people p on p.id = e.person ";

std::vector<Temperature> temperatures_in(Query& find) {
  std::vector<Temperature> found;
  while (find.next()) {
    Temperature& one = found.emplace_back();
    one.id = find.integer(0);
    one.sowing = find.maybe_integer(1);
    one.place = find.text(2);
    one.at = find.moment(3);
    one.spot_c = find.maybe_real(5);
    one.min_c = find.maybe_real(6);
    one.max_c = find.maybe_real(7);
    one.by = find.text(8);
  }
  return found;
}

struct Tally {
  std::int64_t up = 0;
  std::int64_t assessed = 0;
};

Tally tally_of(Store& store, records::Id sowing) {
  Query find(store,
             "select coalesce((select max(total) from counts where sowing = ?1), 0), "
             "coalesce((select sum(units) from assessments where sowing = ?1), 0)",
             sowing);
  if (!find.next()) return {};
  return {find.integer(0), find.integer(1)};
}

}  // namespace

records::Id add_assessment(Entry& entry, records::Id id, const Assessment& assessment) {
  const records::Sowing sowing = sowing_by_id(entry.logbook(), id);
  try {
    check(assessment);
  } catch (const Refused& refused) {
    throw Refused(sowing.label + ": " + refused.what(), refused.hints());
  }
  if (assessment.on > entry.today())
    throw Refused(sowing.label + ": " + not_yet(assessment.on, entry.today()));
  if (assessment.on < sowing.sown.date)
    throw Refused(sowing.label + " was sown on " + records::spoken(sowing.sown.date, true) +
                  ", after " + records::spoken(assessment.on, true) + ". Another day meant?");
  Store& store = entry.logbook().store();
  const Tally tally = tally_of(store, id);
  if (sowing.units && tally.up + tally.assessed + assessment.units > *sowing.units)
    throw Refused(
        sowing.label + ": " + std::to_string(*sowing.units) + " sown, " + std::to_string(tally.up) +
        " came up" +
        (tally.assessed > 0 ? " and " + std::to_string(tally.assessed) + " are assessed already"
                            : std::string()) +
        ", which leaves " + std::to_string(*sowing.units - tally.up - tally.assessed) + "; " +
        std::to_string(assessment.units) + ' ' + std::string(word(assessment.outcome)) +
        " cannot be. Of those that came up none "
        "is assessed.");
  const auto who = person(entry, assessment.by);
  Query(store,
        "insert into assessments (sowing, day, outcome, units, person, entry) "
        "values (?, ?, ?, ?, ?, ?)",
        id, assessment.on, word(assessment.outcome), assessment.units, who, entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

void amend_assessment(Entry& entry, records::Id id, const Assessment& assessment) {
  take_out(entry, "assessments", assessment.id);
  add_assessment(entry, id, assessment);
}

std::vector<Assessment> assessments_of(Logbook& logbook, records::Id sowing) {
  std::vector<Assessment> found;
  Query find(logbook.store(),
             "select a.id, a.day, a.outcome, a.units, p.name from assessments a "
             "left join people p on p.id = a.person where a.sowing = ? order by a.day, a.id",
             sowing);
  while (find.next()) {
    const auto outcome = records::from_word<records::Outcome>(find.text(2));
    found.push_back({find.integer(0), find.date(1), outcome.value_or(records::Outcome::not_found),
                     find.integer(3), find.text(4)});
  }
  return found;
}

records::Id add_temperature(Entry& entry, const Temperature& temperature) {
  refuse_wrong(entry, temperature);
  if (temperature.sowing) sowing_by_id(entry.logbook(), *temperature.sowing);
  const auto who = person(entry, temperature.by);
  Store& store = entry.logbook().store();
  Query(store,
        "insert into temperatures (sowing, place, day, time, spot_c, min_c, max_c, person, entry) "
        "values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        temperature.sowing, or_null(temperature.place), temperature.at.date,
        time_text(temperature.at), temperature.spot_c, temperature.min_c, temperature.max_c, who,
        entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

void amend_temperature(Entry& entry, const Temperature& temperature) {
  refuse_wrong(entry, temperature);
  RowChange change(entry, "temperatures", temperature.id);
  change.set("day", temperature.at.date);
  change.set("time", time_text(temperature.at));
  change.set("spot_c", temperature.spot_c);
  change.set("min_c", temperature.min_c);
  change.set("max_c", temperature.max_c);
  change.save();
}

std::vector<Temperature> temperatures_of(Logbook& logbook, records::Id sowing) {
  Query find(logbook.store(), std::string(select_temperature) + "where e.sowing = ? " + in_order,
             sowing);
  return temperatures_in(find);
}

std::vector<Temperature> temperatures_at(Logbook& logbook, const std::string& place) {
  Query find(logbook.store(), std::string(select_temperature) + "where e.place = ? " + in_order,
             place);
  return temperatures_in(find);
}

records::Id add_note(Entry& entry, const records::Note& note) {
  refuse_wrong(entry, note);
  static constexpr const char* tables[] = {"sowings", "lots", "trials", "treatments"};
  static constexpr const char* words[] = {"sowing", "lot", "trial", "treatment"};
  const auto about = static_cast<std::size_t>(note.about);
  Store& store = entry.logbook().store();
  if (!Query(store, std::string("select 1 from ") + tables[about] + " where id = ?", note.of)
           .next())
    throw Refused(std::string("The note is about a ") + words[about] +
                  " that is not in the logbook.");
  const auto who = person(entry, note.by);
  Query(store, "insert into notes (about, of, day, text, person, entry) values (?, ?, ?, ?, ?, ?)",
        words[about], note.of, note.on, note.text, who, entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

void amend_note(Entry& entry, const records::Note& note) {
  refuse_wrong(entry, note);
  RowChange change(entry, "notes", note.id);
  change.set("day", note.on);
  change.set("text", note.text);
  change.save();
}

void take_out_seen(Entry& entry, Seen what, records::Id id) {
  static constexpr const char* tables[] = {"assessments", "temperatures", "notes"};
  take_out(entry, tables[static_cast<std::size_t>(what)], id);
}

std::vector<records::Note> notes_of(Logbook& logbook, records::About about, records::Id of) {
  static constexpr const char* words[] = {"sowing", "lot", "trial", "treatment"};
  std::vector<records::Note> notes;
  Query find(
      logbook.store(),
      "select n.id, n.day, n.text, p.name from notes n left join people p on p.id = n.person "
      "where n.about = ? and n.of = ? order by n.day, n.id",
      words[static_cast<std::size_t>(about)], of);
  while (find.next())
    notes.push_back({find.integer(0), about, of, find.date(1), find.text(2), find.text(3)});
  return notes;
}

}  // namespace plumule::logbook
