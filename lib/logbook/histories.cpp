#include "logbook/histories.hpp"

#include <algorithm>

#include "logbook/course_rows.hpp"
#include "logbook/observations.hpp"
#include "logbook/sowing_rows.hpp"
#include "logbook/sowings.hpp"
#include "records/label.hpp"

namespace plumule::logbook {
namespace {

struct Found {
  records::Id id = 0;
  std::string sown;
  std::string label;
};

std::vector<Found> select(Store& store, const Selection& selection) {
  std::string sql = "select s.id, s.sown_on, s.label from sowings s ";
  std::vector<std::string> values;
  std::string where;
  const auto must = [&where](const std::string& condition) {
    where += (where.empty() ? "where " : " and ") + condition;
  };
  if (selection.lot) {
    must("s.lot = (select id from lots where code = ?)");
    values.push_back(*selection.lot);
  }
  if (selection.treatment) {
    must("s.treatment = (select id from treatments where label = ?)");
    values.push_back(*selection.treatment);
  }
  if (selection.trial) {
    must("s.trial = (select id from trials where code = ?)");
    values.push_back(*selection.trial);
  }
  if (selection.crop) {
    must("coalesce((select crop from lots l where l.id = s.lot), s.crop) = ? collate nocase");
    values.push_back(*selection.crop);
  }
  if (!selection.sowings.empty()) {
    std::string ids;
    for (const records::Id id : selection.sowings)
      ids += (ids.empty() ? "" : ",") + std::to_string(id);
    must("s.id in (" + ids + ")");
  }
  std::vector<Found> found;
  Query find(store, sql + where);
  for (const std::string& value : values) find.bind(value);
  while (find.next()) found.push_back({find.integer(0), find.text(1), find.text(2)});
  std::sort(found.begin(), found.end(), [](const Found& a, const Found& b) {
    if (a.sown != b.sown) return a.sown < b.sown;
    return records::label_before(a.label, b.label);
  });
  return found;
}

bool any(Store& store, const char* table) {
  return Query(store, std::string("select 1 from ") + table + " limit 1").next();
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

}  // namespace

void each_history(Logbook& logbook, const Selection& selection,
                  const std::function<void(const records::History&)>& take) {
  Store& store = logbook.store();
  const bool assessed = any(store, "assessments");
  const bool warm = any(store, "temperatures");
  for (const Found& found : select(store, selection)) {
    records::History history;
    std::string sown_place;
    {
      Query find(store, select_sowing + "where s.id = ?", found.id);
      if (!find.next()) continue;
      history.sowing = sowing_in(find);
    }
    history.counts = counts_in(read_course(store, found.id));
    if (assessed) history.assessments = assessments_of(logbook, found.id);
    if (warm) {
      history.temperatures = temperatures_of(logbook, found.id);
      Query find(store, "select place from sowings where id = ?", found.id);
      if (find.next()) sown_place = find.text(0);
      add_place_readings(logbook, sown_place, history);
    }
    take(history);
  }
}

std::vector<records::History> histories(Logbook& logbook, const Selection& selection) {
  std::vector<records::History> all;
  each_history(logbook, selection,
               [&all](const records::History& history) { all.push_back(history); });
  return all;
}

}  // namespace plumule::logbook
