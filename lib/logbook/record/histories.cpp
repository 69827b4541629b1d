#include "logbook/record/histories.hpp"

#include <algorithm>
#include <numeric>

#include "logbook/record/course_scan.hpp"
#include "logbook/record/moves.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowing_rows.hpp"
#include "logbook/store/one_moment.hpp"
#include "records/label.hpp"

namespace plumule::logbook {
namespace {

// What a selection asks for, after "from sowings s": text of a statement and what is bound to it.
struct Asked {
  std::string where;
  std::vector<std::string> values;
};

Asked asked(const Selection& selection) {
  Asked asked;
  const auto must = [&asked](const std::string& condition) {
    asked.where += (asked.where.empty() ? "where " : " and ") + condition;
  };
  // An empty name asks for those that have none.
  const auto named = [&](const char* column, const char* rows, const std::string& name) {
    if (name.empty()) return must(std::string(column) + " is null");
    must(std::string(column) + " = (select id from " + rows + " = ?)");
    asked.values.push_back(name);
  };
  if (selection.lot) named("s.lot", "lots where code", *selection.lot);
  if (selection.treatment) named("s.treatment", "treatments where label", *selection.treatment);
  if (selection.trial) named("s.trial", "trials where code", *selection.trial);
  if (selection.crop) {
    must("coalesce((select crop from lots l where l.id = s.lot), s.crop) = ? collate nocase");
    asked.values.push_back(*selection.crop);
  }
  if (!selection.sowings.empty()) {
    std::string ids;
    for (const records::Id id : selection.sowings)
      ids += (ids.empty() ? "[" : ",") + std::to_string(id);
    must("s.id in (select value from json_each(?))");  // as SQL a long list would be refused
    asked.values.push_back(ids + "]");
  }
  if (selection.whole_trials)
    asked.where = asked.where.empty()
                      ? "where s.trial is not null"
                      : "where s.trial in (select s.trial from sowings s " + asked.where + ")";
  return asked;
}

// In the order they are given. Ids alone: of ten million sowings that is 80 MB.
std::vector<records::Id> select_ids(Store& store, const Asked& asked) {
  std::vector<records::Id> found;
  Query find(store, "select s.id from sowings s " + asked.where +
                        " order by s.sown_on, s.label collate by_label");
  for (const std::string& value : asked.values) find.bind(value);
  while (find.next()) found.push_back(find.integer(0));
  return found;
}

// How many sowings are read at once, while the file is locked.
constexpr std::size_t at_once = 64;

// A trial is seldom more: its sowings are read by one statement, which finds and reads them at
// once, and put in order here. None where the selection is of more than `at_once`.
std::optional<std::vector<records::History>> select_few(Store& store, const Asked& asked) {
  std::vector<records::Sowing> found;
  found.reserve(16);
  Query find(store, select_sowing_as_sown + asked.where + " limit " + std::to_string(at_once + 1));
  for (const std::string& value : asked.values) find.bind(value);
  while (find.next()) {
    if (found.size() == at_once) return std::nullopt;
    found.push_back(sowing_in(find));
  }
  std::vector<std::size_t> order(found.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&found](std::size_t i, std::size_t j) {
    const records::Sowing& a = found[i];
    const records::Sowing& b = found[j];
    if (a.sown.date != b.sown.date) return a.sown.date < b.sown.date;
    return records::label_before(a.label, b.label);
  });
  std::vector<records::History> histories(found.size());
  for (std::size_t i = 0; i < order.size(); ++i) histories[i].sowing = std::move(found[order[i]]);
  return histories;
}

// Readings of the places where the sowing stood, each while it stood there.
void add_place_readings(Logbook& logbook, const std::string& sown_place,
                        std::vector<records::Move> moves, records::History& history) {
  const records::Sowing& sowing = history.sowing;
  std::vector<records::Move> stays(1);
  stays[0].on = sowing.sown.date;
  stays[0].place = sown_place;
  for (records::Move& move : moves) stays.push_back(std::move(move));
  for (std::size_t i = 0; i < stays.size(); ++i) {
    if (stays[i].place.empty()) continue;
    for (records::Temperature& reading : temperatures_at(logbook, stays[i].place)) {
      const records::Date day = reading.at.date;
      if (day >= stays[i].on && (i + 1 == stays.size() || day < stays[i + 1].on) &&
          (!sowing.ending || day <= sowing.ending->at.date))
        history.temperatures.push_back(std::move(reading));
    }
  }
  std::stable_sort(history.temperatures.begin(), history.temperatures.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
}

// Reads what was seen of one sowing after the other, all in one moment.
class HistoryReader {
 public:
  explicit HistoryReader(Logbook& logbook) : logbook_(logbook), counts_(logbook.store()) {
    Query any(logbook.store(),
              "select exists (select 1 from assessments), exists (select 1 from temperatures), "
              "exists (select 1 from moves)");
    if (!any.next()) return;
    assessed_ = any.integer(0) != 0;
    warm_ = any.integer(1) != 0;
    moved_ = any.integer(2) != 0;
  }

  // Completes a history that has its sowing as it was sown.
  void read(records::History& history) {
    const records::Id id = history.sowing.id;
    counts_.read(id, history.counts);
    if (assessed_) history.assessments = assessments_of(logbook_, id);
    if (!moved_ && !warm_) return;
    std::vector<records::Move> moves;
    if (moved_) moves = moves_of(logbook_, id);
    const std::string sown_place = history.sowing.place;
    if (!moves.empty()) history.sowing.place = moves.back().place;
    if (!warm_) return;
    history.temperatures = temperatures_of(logbook_, id);
    add_place_readings(logbook_, sown_place, std::move(moves), history);
  }

 private:
  Logbook& logbook_;
  bool assessed_ = false;
  bool warm_ = false;
  bool moved_ = false;
  CourseScan counts_;
};

// Those of the ids from `from` on that are still there, at_once of them at most.
void read_some(Logbook& logbook, const std::vector<records::Id>& ids, std::size_t from,
               std::vector<records::History>& into) {
  HistoryReader reader(logbook);
  Query find(logbook.store(), select_sowing_as_sown + "where s.id = ?");
  for (std::size_t i = from; i < std::min(from + at_once, ids.size()); ++i) {
    find.again();
    find.bind(ids[i]);
    if (!find.next()) continue;
    into.emplace_back().sowing = sowing_in(find);
    reader.read(into.back());
  }
}

}  // namespace

// What is given may be printed, and a pager keep it waiting: the file is locked while a few dozen
// sowings are read, never while one is taken.
void each_history(Logbook& logbook, const Selection& selection,
                  const std::function<void(const records::History&)>& take) {
  const Asked what = asked(selection);
  std::vector<records::Id> ids;
  std::vector<records::History> read;
  {
    const OneMoment moment(logbook.store());
    if (auto few = select_few(logbook.store(), what)) {
      read = std::move(*few);
      HistoryReader reader(logbook);
      for (records::History& history : read) reader.read(history);
    } else {
      ids = select_ids(logbook.store(), what);
      read_some(logbook, ids, 0, read);
    }
  }
  for (const records::History& history : read) take(history);
  for (std::size_t from = at_once; from < ids.size(); from += at_once) {
    read.clear();
    {
      const OneMoment moment(logbook.store());
      read_some(logbook, ids, from, read);
    }
    for (const records::History& history : read) take(history);
  }
}

std::vector<records::History> histories(Logbook& logbook, const Selection& selection) {
  const Asked what = asked(selection);
  const OneMoment moment(logbook.store());
  if (auto few = select_few(logbook.store(), what)) {
    HistoryReader reader(logbook);
    for (records::History& history : *few) reader.read(history);
    return std::move(*few);
  }
  std::vector<records::History> all;
  const std::vector<records::Id> ids = select_ids(logbook.store(), what);
  all.reserve(ids.size());
  for (std::size_t from = 0; from < ids.size(); from += at_once) read_some(logbook, ids, from, all);
  return all;
}

}  // namespace plumule::logbook
