#include "logbook/record/counts.hpp"

#include <algorithm>

#include "logbook/journal/ledger.hpp"
#include "logbook/record/course_rows.hpp"
#include "logbook/record/course_write.hpp"
#include "logbook/record/people.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/store/store.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Advice;
using records::Count;
using records::Refused;
using records::Sowing;

std::string called(const Sowing& sowing) {
  return sowing.open() ? sowing.label : sowing.dated_label();
}

// In a blind trial a refusal must not give away what the walk hides.
records::Figures figures_of(Logbook& logbook, const Sowing& sowing) {
  return is_blind(logbook, sowing.trial) ? records::Figures::hidden : records::Figures::shown;
}

// A second reading is judged by itself: it may well disagree with the looks before it, which
// another person made, but what cannot be of any look (more than sown, before sowing) is a slip of
// its own.
void refuse_impossible(const Entry& entry, const Sowing& sowing, const Count& count,
                       records::Figures figures) {
  std::vector<Count> alone{count};
  records::Entered& entered = alone[0].entered;
  if (entered.kind == records::CountKind::standing) {  // the lost stood at a look left out here
    entered.kind = records::CountKind::total;
    entered.value += entered.lost;
    entered.lost = 0;
  }
  if (const auto trouble = derive(sowing, alone))
    throw Refused(explain(sowing, alone, *trouble, 0, entry.today(), figures));
}

// In the place of the one that stands, beside the looks before and after it: what cannot be there
// is no correction of it either.
void refuse_in_its_place(const Entry& entry, const Sowing& sowing,
                         const std::vector<CountRow>& course, std::size_t place, const Count& count,
                         records::Figures figures) {
  std::vector<Count> counts = counts_in(course);
  counts[place].entered = count.entered;
  const auto trouble = derive(sowing, counts);
  if (!trouble) return;
  records::Refusal refusal = explain(sowing, counts, *trouble, place, entry.today(), figures);
  const bool since_then = count.entered.kind == records::CountKind::standing &&
                          trouble->fault != records::Fault::more_than_sown;
  if (since_then && !count.at.minute_of_day)
    refusal.hints.push_back({.advice = Advice::another_look_that_day, .at = count.at});
  throw Refused(std::move(refusal));
}

// The look has a count already: the same figure, a second person's, or a correction.
Kept beside(Entry& entry, const Sowing& sowing, const std::vector<CountRow>& course,
            std::size_t place, const Count& count, records::Figures figures) {
  const Count& stands = course[place].count;
  const bool same = stands.entered == count.entered ||
                    (count.entered == records::Entered{records::CountKind::newly, 0, {}, 0, {}});
  if (same) return Kept::nothing_new;
  if (!count.by.empty() && !stands.by.empty() && count.by != stands.by) {
    refuse_impossible(entry, sowing, count, figures);
    return keep_second_reading(entry, sowing, count) ? Kept::second_reading : Kept::nothing_new;
  }
  refuse_in_its_place(entry, sowing, course, place, count, figures);
  const std::string name = called(sowing);
  const bool named = !stands.by.empty() && stands.by != records::nobody_named;
  const bool today = count.at.date == entry.today();
  const bool hidden = figures == records::Figures::hidden;
  records::Refusal refusal;
  refusal.fact = name + ": " + (hidden ? "another figure" : in_words(stands.entered)) +
                 " is written down for " +
                 (today ? "today" : records::spoken(count.at.date, true)) +
                 (stands.at.minute_of_day ? " at " + records::to_text(stands.at).substr(11) : "") +
                 (named ? " by " + stands.by : "") + ", not " + in_words(count.entered) + '.';
  refusal.hints.push_back(
      {.advice = Advice::amend_count, .name = name, .at = stands.at, .figure = count.entered});
  if (!count.at.minute_of_day)
    refusal.hints.push_back({.advice = Advice::another_look, .at = count.at});
  refusal.hints.push_back({.advice = Advice::another_person});
  throw Refused(std::move(refusal));
}

}  // namespace

void refuse_future_count(const Entry& entry, const Sowing& sowing, const Count& count) {
  if (count.at.date > entry.today())
    throw Refused(called(sowing) + ": " + records::spoken(count.at.date, true) +
                  " has not come yet; today is " + records::spoken(entry.today(), true) + '.');
}

void judge_course(Entry& entry, const Sowing& sowing, std::vector<CountRow>& course,
                  std::size_t entered, records::Figures figures) {
  std::vector<Count> counts = counts_in(course);
  if (const auto trouble = derive(sowing, counts))
    throw Refused(explain(sowing, counts, *trouble, entered, entry.today(), figures));
  for (std::size_t i = 0; i < course.size(); ++i) course[i].count.total = counts[i].total;
  if (!sowing.units || counts.empty()) return;
  Query sum(entry.logbook().store(),
            "select coalesce(sum(units), 0) from assessments where sowing = ?", sowing.id);
  const std::int64_t found = sum.next() ? sum.integer(0) : 0;
  const std::int64_t up = counts.back().total;
  if (found > 0 && found + up > *sowing.units)
    throw Refused(
        called(sowing) + ": " + std::to_string(*sowing.units) + " sown, " + std::to_string(found) +
            " of them found not to have come up, and " +
            (figures == records::Figures::hidden ? std::string("those") : std::to_string(up)) +
            " up makes more than was sown.",
        {{Advice::count_again}, {Advice::amend_assessment, called(sowing)}});
}

std::vector<CountRow>::iterator place_of(std::vector<CountRow>& course, const records::Moment& at) {
  return std::lower_bound(
      course.begin(), course.end(), at,
      [](const CountRow& row, const records::Moment& moment) { return row.count.at < moment; });
}

// After an accident nothing more is a good look: a count of that very day, entered once the ending
// stands, would put itself in the place of the last one. With both times known the course tells.
void refuse_after_accident(const Sowing& sowing, const Count& count) {
  if (!sowing.ending || sowing.ending->kind != records::EndingKind::accident) return;
  const records::Moment& end = sowing.ending->at;
  if (count.at.date != end.date || (count.at.minute_of_day && end.minute_of_day)) return;
  const std::string name = called(sowing);
  throw Refused(name + " ended by an accident on " + records::spoken(end.date, true) +
                    (sowing.ending->why.empty() ? "" : " (" + sowing.ending->why + ')') +
                    ", and stands at its last good look.",
                {{Advice::before_accident, name}, {Advice::after_accident, name}});
}

Kept record_count(Entry& entry, const Sowing& sowing, const Count& count) {
  refuse_future_count(entry, sowing, count);
  Store& store = entry.logbook().store();
  const std::vector<CountRow> was = read_course(store, sowing.id);
  std::vector<CountRow> now = was;
  const auto place = place_of(now, count.at);
  const auto index = static_cast<std::size_t>(place - now.begin());
  if (place != now.end() && place->count.at.minutes() == count.at.minutes())
    return beside(entry, sowing, now, index, count, figures_of(entry.logbook(), sowing));
  refuse_after_accident(sowing, count);
  CountRow row{count, std::nullopt, 0};
  now.insert(place, row);
  // The rules first, with nothing written: a refused count adds no person and no entry.
  judge_course(entry, sowing, now, index, figures_of(entry.logbook(), sowing));
  now[index].person = person(entry, count.by);
  now[index].entry = entry.id();
  write_course(store, sowing.id, was, now);
  return Kept::saved;
}

void amend_count(Entry& entry, const Sowing& sowing, const records::Moment& at,
                 const std::optional<records::Entered>& entered) {
  Store& store = entry.logbook().store();
  const std::vector<CountRow> was = read_course(store, sowing.id);
  std::vector<CountRow> now = was;
  const auto place = place_of(now, at);
  if (place == now.end() || place->count.at.minutes() != at.minutes()) {
    std::string days;
    for (std::size_t i = was.size() > 3 ? was.size() - 3 : 0; i < was.size(); ++i) {
      if (!days.empty()) days += ", ";
      days += records::to_text(was[i].count.at);
    }
    throw Refused(called(sowing) + " has no count of " + records::to_text(at) + " to amend. " +
                  (days.empty() ? "It has none yet." : "The last ones are of " + days + '.'));
  }
  const auto index = static_cast<std::size_t>(place - now.begin());
  if (entered && *entered == place->count.entered) return;
  if (entered)
    place->count.entered = *entered;
  else
    now.erase(place);
  judge_course(entry, sowing, now, entered ? index : now.size());
  keep_count_change(entry, sowing.id, was[index], entered ? &now[index] : nullptr);
  write_course(store, sowing.id, was, now);
}

std::vector<Count> counts_of(Logbook& logbook, records::Id sowing) {
  return counts_in(read_course(logbook.store(), sowing));
}

}  // namespace plumule::logbook
