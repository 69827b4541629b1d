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

bool lost_some(const std::vector<CountRow>& course) {
  return std::any_of(course.begin(), course.end(),
                     [](const CountRow& row) { return row.count.entered.lost > 0; });
}

// A number alone at that place of the course is read; false where both its readings hold there.
bool settled(const Sowing& sowing, const std::vector<CountRow>& course, std::size_t place,
             records::Typed& typed) {
  if (!typed.plain || !lost_some(course)) return true;
  std::vector<Count> counts = counts_in(course);
  counts[place].entered = typed.entered;
  const bool both = settle_plain(sowing, counts, place).has_value();
  typed.entered = counts[place].entered;
  return !both;
}

// The rules, and beside them what is more often a slip than true.
std::optional<records::Trouble> trouble_of(const Sowing& sowing, const std::vector<CountRow>& was,
                                           std::vector<Count>& counts, std::size_t typed,
                                           std::int64_t came_lost) {
  auto trouble = derive(sowing, counts);
  const auto lost = [](const Count& count) { return count.entered.lost > 0; };
  if (!trouble && std::any_of(counts.begin(), counts.end(), lost))
    trouble = more_lost_than_stood(counts_in(was), counts, typed, came_lost);
  return trouble;
}

[[noreturn]] void refuse_two_readings(const Entry& entry, const Sowing& sowing,
                                      const std::vector<CountRow>& course, std::size_t place,
                                      const Count& count, records::Figures figures) {
  std::vector<Count> counts = counts_in(course);
  counts[place].entered = count.entered;
  derive(sowing, counts);
  throw Refused(explain(sowing, counts, {place, records::Fault::two_readings}, place, entry.today(),
                        figures));
}

// In the place of the one that stands, beside the looks before and after it: what cannot be there
// is no correction of it either.
void refuse_in_its_place(const Entry& entry, const Sowing& sowing,
                         const std::vector<CountRow>& course, std::size_t place, const Count& count,
                         std::int64_t came_lost, records::Figures figures) {
  std::vector<Count> counts = counts_in(course);
  counts[place].entered = count.entered;
  const auto trouble = trouble_of(sowing, course, counts, place, came_lost);
  if (!trouble) return;
  records::Refusal refusal = explain(sowing, counts, *trouble, place, entry.today(), figures);
  // A figure that may have been meant is a correction here: the look has one already.
  for (records::Hint& hint : refusal.hints)
    if (hint.figure && !hint.at && hint.advice != Advice::amend_earlier_look &&
        hint.advice != Advice::say_how_many_died_since &&
        hint.advice != Advice::say_how_many_came_and_died) {
      hint.advice = Advice::amend_count;
      hint.at = counts[place].at;
    }
  const bool since_then = count.entered.kind == records::CountKind::standing &&
                          trouble->fault != records::Fault::more_than_sown;
  if (since_then && !count.at.minute_of_day)
    refusal.hints.push_back({.advice = Advice::another_look_that_day, .at = count.at});
  throw Refused(std::move(refusal));
}

// Whether the figure typed says no more than the one that stands: a number alone may be either of
// the two that it can mean.
bool says_the_same(const records::Typed& typed, const records::Entered& stands) {
  const records::Entered& entered = typed.entered;
  if (entered == stands || entered == records::Entered{records::CountKind::newly, 0, {}, 0, {}})
    return true;
  return typed.plain && stands == records::Entered{records::CountKind::standing, entered.value};
}

// The look has a count already: the same figure, a second person's, or a correction.
Kept beside(Entry& entry, const Sowing& sowing, const std::vector<CountRow>& course,
            std::size_t place, const std::string& by, records::Typed& typed,
            records::Figures figures) {
  const Count& stands = course[place].count;
  if (says_the_same(typed, stands.entered)) {
    typed.entered = stands.entered;
    return Kept::nothing_new;
  }
  const bool another = !by.empty() && !stands.by.empty() && by != stands.by;
  const bool clear = settled(sowing, course, place, typed);
  const Count count{stands.at, typed.entered, by, 0};
  if (!clear && another) refuse_two_readings(entry, sowing, course, place, count, figures);
  if (another) {
    refuse_impossible(entry, sowing, count, figures);
    return keep_second_reading(entry, sowing, count) ? Kept::second_reading : Kept::nothing_new;
  }
  refuse_in_its_place(entry, sowing, course, place, count, typed.came_lost, figures);
  const std::string name = called(sowing);
  const bool named = !stands.by.empty() && stands.by != records::nobody_named;
  const bool today = count.at.date == entry.today();
  const bool hidden = figures == records::Figures::hidden;
  records::Refusal refusal;
  refusal.fact = name + ": " + (hidden ? "another figure" : in_words(stands.entered)) +
                 " is written down for " +
                 (today ? "today" : records::spoken(count.at.date, true)) +
                 (stands.at.minute_of_day ? " at " + records::to_text(stands.at).substr(11) : "") +
                 (named ? " by " + stands.by : "") + ", not " +
                 (clear ? in_words(count.entered) : std::to_string(count.entered.value)) + '.';
  refusal.hints.push_back({.advice = clear ? Advice::amend_count : Advice::amend_either,
                           .name = name,
                           .at = stands.at,
                           .figure = count.entered,
                           .number = typed.came_lost});
  if (!clear) throw Refused(std::move(refusal));  // another look would be asked about again
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

void judge_course(Entry& entry, const Sowing& sowing, const std::vector<CountRow>& was,
                  std::vector<CountRow>& now, std::size_t entered, std::int64_t came_lost,
                  records::Figures figures) {
  std::vector<Count> counts = counts_in(now);
  if (const auto trouble = trouble_of(sowing, was, counts, entered, came_lost))
    throw Refused(explain(sowing, counts, *trouble, entered, entry.today(), figures));
  for (std::size_t i = 0; i < now.size(); ++i) now[i].count.total = counts[i].total;
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

Kept record_typed(Entry& entry, const Sowing& sowing, const records::Moment& at,
                  const std::string& by, records::Typed& typed) {
  Count count{at, typed.entered, by, 0};
  refuse_future_count(entry, sowing, count);
  Store& store = entry.logbook().store();
  const std::vector<CountRow> was = read_course(store, sowing.id);
  std::vector<CountRow> now = was;
  const auto place = place_of(now, count.at);
  const auto index = static_cast<std::size_t>(place - now.begin());
  if (place != now.end() && place->count.at.minutes() == count.at.minutes())
    return beside(entry, sowing, now, index, by, typed, figures_of(entry.logbook(), sowing));
  refuse_after_accident(sowing, count);
  now.insert(place, CountRow{count, std::nullopt, 0});
  const records::Figures figures = figures_of(entry.logbook(), sowing);
  // The rules first, with nothing written: a refused count adds no person and no entry.
  if (!settled(sowing, now, index, typed))
    refuse_two_readings(entry, sowing, now, index, count, figures);
  now[index].count.entered = typed.entered;
  judge_course(entry, sowing, was, now, index, typed.came_lost, figures);
  now[index].person = person(entry, count.by);
  now[index].entry = entry.id();
  write_course(store, sowing.id, was, now);
  return Kept::saved;
}

Kept record_count(Entry& entry, const Sowing& sowing, const Count& count) {
  records::Typed meant(count.entered);
  return record_typed(entry, sowing, count.at, count.by, meant);
}

namespace {

void change_count(Entry& entry, const Sowing& sowing, const records::Moment& at,
                  std::optional<records::Typed>& typed, records::Figures figures) {
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
  const records::Entered& stands = was[index].count.entered;
  if (typed && (typed->entered == stands || (typed->plain && says_the_same(*typed, stands)))) {
    typed->entered = stands;
    return;
  }
  if (typed) {
    place->count.entered = typed->entered;
    if (!settled(sowing, now, index, *typed))
      refuse_two_readings(entry, sowing, now, index, place->count, figures);
    place->count.entered = typed->entered;
  } else {
    now.erase(place);
  }
  judge_course(entry, sowing, was, now, typed ? index : now.size(), typed ? typed->came_lost : 0,
               figures);
  keep_count_change(entry, sowing.id, was[index], typed ? &now[index] : nullptr);
  write_course(store, sowing.id, was, now);
}

}  // namespace

void amend_typed(Entry& entry, const Sowing& sowing, const records::Moment& at,
                 std::optional<records::Typed>& typed) {
  change_count(entry, sowing, at, typed, figures_of(entry.logbook(), sowing));
}

void amend_count(Entry& entry, const Sowing& sowing, const records::Moment& at,
                 std::optional<records::Typed> typed) {
  change_count(entry, sowing, at, typed, records::Figures::shown);
}

std::vector<Count> counts_of(Logbook& logbook, records::Id sowing) {
  return counts_in(read_course(logbook.store(), sowing));
}

}  // namespace plumule::logbook
