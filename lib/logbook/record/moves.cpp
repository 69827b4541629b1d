#include "logbook/record/moves.hpp"

#include "logbook/record/sowings.hpp"
#include "logbook/store/store.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Refused;

void refuse_day(const records::Sowing& sowing, records::Date on, records::Date today) {
  if (on > today)
    throw Refused(sowing.label + ": " + records::spoken(on, true) + " has not come yet; today is " +
                  records::spoken(today, true) + '.');
  if (on < sowing.sown.date)
    throw Refused(sowing.label + " was sown on " + records::spoken(sowing.sown.date, true) +
                  ", after " + records::spoken(on, true) + ". Another day meant?");
}

}  // namespace

records::Id move_sowing(Entry& entry, records::Id id, const records::Move& move) {
  const records::Sowing sowing = sowing_by_id(entry.logbook(), id);
  if (move.place.empty()) throw Refused(sowing.label + ": moved where to? Name the place.");
  refuse_day(sowing, move.on, entry.today());
  Store& store = entry.logbook().store();
  Query(store, "insert into moves (sowing, day, place, entry) values (?, ?, ?, ?)", id, move.on,
        move.place, entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

std::vector<records::Move> moves_of(Logbook& logbook, records::Id sowing) {
  std::vector<records::Move> moves;
  Query find(logbook.store(), "select id, day, place from moves where sowing = ? order by day, id",
             sowing);
  while (find.next()) moves.push_back({find.integer(0), find.date(1), find.text(2)});
  return moves;
}

records::Id add_photograph(Entry& entry, records::Id id, const records::Photograph& photo) {
  const records::Sowing sowing = sowing_by_id(entry.logbook(), id);
  if (photo.path.empty())
    throw Refused(sowing.label + ": a photograph needs the path of its file.");
  if (photo.on > entry.today())
    throw Refused(sowing.label + ": " + records::spoken(photo.on, true) + " has not come yet.");
  Store& store = entry.logbook().store();
  Query(store, "insert into photographs (sowing, day, path, caption, entry) values (?, ?, ?, ?, ?)",
        id, photo.on, photo.path, or_null(photo.caption), entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

std::vector<records::Photograph> photographs_of(Logbook& logbook, records::Id sowing) {
  std::vector<records::Photograph> photos;
  Query find(logbook.store(),
             "select id, day, path, caption from photographs where sowing = ? order by day, id",
             sowing);
  while (find.next()) photos.push_back({find.integer(0), find.date(1), find.text(2), find.text(3)});
  return photos;
}

}  // namespace plumule::logbook
