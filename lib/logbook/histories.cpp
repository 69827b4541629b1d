#include "logbook/histories.hpp"

#include <algorithm>
#include <map>
#include <memory>

#include "logbook/observations.hpp"
#include "logbook/one_moment.hpp"
#include "logbook/scan.hpp"
#include "logbook/sowing_rows.hpp"
#include "logbook/sowings.hpp"

namespace plumule::logbook {
namespace {

// In the order they are given. Ids alone: of ten million sowings that is 80 MB.
std::vector<records::Id> select(Store& store, const Selection& selection) {
  std::string sql = "select s.id from sowings s ";
  std::vector<std::string> values;
  std::string where;
  const auto must = [&where](const std::string& condition) {
    where += (where.empty() ? "where " : " and ") + condition;
  };
  // An empty name asks for those that have none.
  const auto named = [&](const char* column, const char* rows, const std::string& name) {
    if (name.empty()) return must(std::string(column) + " is null");
    must(std::string(column) + " = (select id from " + rows + " = ?)");
    values.push_back(name);
  };
  if (selection.lot) named("s.lot", "lots where code", *selection.lot);
  if (selection.treatment) named("s.treatment", "treatments where label", *selection.treatment);
  if (selection.trial) named("s.trial", "trials where code", *selection.trial);
  if (selection.crop) {
    must("coalesce((select crop from lots l where l.id = s.lot), s.crop) = ? collate nocase");
    values.push_back(*selection.crop);
  }
  if (!selection.sowings.empty()) {
    std::string ids;
    for (const records::Id id : selection.sowings)
      ids += (ids.empty() ? "[" : ",") + std::to_string(id);
    must("s.id in (select value from json_each(?))");  // as SQL a long list would be refused
    values.push_back(ids + "]");
  }
  std::vector<records::Id> found;
  Query find(store, sql + where + " order by s.sown_on, s.label collate by_label");
  for (const std::string& value : values) find.bind(value);
  while (find.next()) found.push_back(find.integer(0));
  return found;
}

bool any(Store& store, const char* table) {
  return Query(store, std::string("select 1 from ") + table + " limit 1").next();
}

// Who counted, by row.
std::map<records::Id, std::string> people(Store& store) {
  std::map<records::Id, std::string> names;
  Query find(store, "select id, name from people");
  while (find.next()) names[find.integer(0)] = find.text(1);
  return names;
}

// Readings of the places where the sowing stood, each while it stood there.
void add_place_readings(Logbook& logbook, const std::string& sown_place,
                        records::History& history) {
  const records::Sowing& sowing = history.sowing;
  std::vector<records::Move> stays(1);
  stays[0].on = sowing.sown.date;
  stays[0].place = sown_place;
  for (records::Move& move : moves_of(logbook, sowing.id)) stays.push_back(std::move(move));
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

// Reads one sowing after the other by statements prepared once.
class HistoryReader {
 public:
  explicit HistoryReader(Logbook& logbook)
      : logbook_(logbook),
        assessed_(any(logbook.store(), "assessments")),
        warm_(any(logbook.store(), "temperatures")),
        people_(people(logbook.store())),
        sowing_(logbook.store(), select_sowing + "where s.id = ?"),
        counts_(logbook.store(),
                "select at, timed, kind, value, high, lost, seedlings, total, person from counts "
                "where sowing = ? order by at") {}

  // False where the sowing is no longer there.
  bool read(records::Id id, records::History& history) {
    sowing_.again();
    sowing_.bind(id);
    if (!sowing_.next()) return false;
    history.sowing = sowing_in(sowing_);
    read_counts(id, history.counts);
    if (assessed_) history.assessments = assessments_of(logbook_, id);
    if (warm_) {
      history.temperatures = temperatures_of(logbook_, id);
      Query find(logbook_.store(), "select place from sowings where id = ?", id);
      add_place_readings(logbook_, find.next() ? find.text(0) : std::string(), history);
    }
    return true;
  }

  // Until the next read: the file is not to stay locked meanwhile.
  void rest() {
    sowing_.again();
    counts_.again();
  }

 private:
  void read_counts(records::Id id, std::vector<records::Count>& counts) {
    counts.clear();
    counts.reserve(16);
    counts_.again();
    counts_.bind(id);
    while (counts_.next()) {
      records::Count& count = counts.emplace_back();
      count.at = records::Moment::from_minutes(counts_.integer(0), counts_.integer(1) != 0);
      count.entered.kind = static_cast<records::CountKind>(counts_.integer(2));
      count.entered.value = counts_.integer(3);
      count.entered.high = counts_.maybe_integer(4);
      count.entered.lost = counts_.integer(5);
      count.entered.seedlings = counts_.maybe_integer(6);
      count.total = counts_.integer(7);
      if (const auto person = counts_.maybe_integer(8)) count.by = people_[*person];
    }
  }

  Logbook& logbook_;
  bool assessed_;
  bool warm_;
  std::map<records::Id, std::string> people_;
  Query sowing_;
  Scan counts_;
};

}  // namespace

// What is given may be printed, and a pager keep it waiting: the file is locked while a few dozen
// sowings are read, never while one is taken.
void each_history(Logbook& logbook, const Selection& selection,
                  const std::function<void(const records::History&)>& take) {
  constexpr std::size_t at_once = 64;
  auto moment = std::make_unique<OneMoment>(logbook.store());
  const std::vector<records::Id> found = select(logbook.store(), selection);
  HistoryReader reader(logbook);
  std::vector<records::History> read(std::min(at_once, found.size()));
  for (std::size_t from = 0; from < found.size(); from += at_once) {
    if (!moment) moment = std::make_unique<OneMoment>(logbook.store());
    std::size_t number = 0;
    for (std::size_t i = from; i < std::min(from + at_once, found.size()); ++i)
      if (reader.read(found[i], read[number])) ++number;
    reader.rest();
    moment.reset();
    for (std::size_t i = 0; i < number; ++i) take(read[i]);
  }
}

std::vector<records::History> histories(Logbook& logbook, const Selection& selection) {
  std::vector<records::History> all;
  each_history(logbook, selection,
               [&all](const records::History& history) { all.push_back(history); });
  return all;
}

}  // namespace plumule::logbook
