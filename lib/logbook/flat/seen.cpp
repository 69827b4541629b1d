// Temperatures and notes of a flat log: each once, also where it stands in the logbook already.
#include <algorithm>
#include <cmath>
#include <tuple>

#include "logbook/flat/merge.hpp"

namespace plumule::logbook {
namespace {

std::optional<double> unless_none(double value) {
  if (std::isnan(value)) return std::nullopt;
  return value;
}

auto key(const FlatTemperature& one) {
  const auto number = [](double value) { return std::isnan(value) ? -1e9 : value; };
  return std::tuple(one.sowing, one.time.day, one.time.minute, one.person, number(one.spot),
                    number(one.low), number(one.high));
}

auto key(const FlatNote& one) { return std::tuple(one.sowing, one.day, one.person, one.text); }

// In order of sowing and day, and none twice.
template <class Seen>
void each_once(std::vector<Seen>& seen) {
  std::stable_sort(seen.begin(), seen.end(),
                   [](const Seen& a, const Seen& b) { return key(a) < key(b); });
  seen.erase(std::unique(seen.begin(), seen.end(),
                         [](const Seen& a, const Seen& b) { return key(a) == key(b); }),
             seen.end());
}

}  // namespace

void merge_seen(FlatMerge& merge) {
  FlatFile& file = merge.file;
  each_once(file.temperatures);
  each_once(file.notes);
  for (const FlatTemperature& one : file.temperatures) {
    const records::Id sowing = merge.places.sowings[one.sowing];
    const records::Moment at = one.time.moment();
    const auto person = merge.person_of(one.person);
    const auto spot = unless_none(one.spot);
    const auto low = unless_none(one.low);
    const auto high = unless_none(one.high);
    if (merge.places.stood[one.sowing] != 0 &&
        Query(merge.store,
              "select 1 from temperatures where sowing = ? and day = ? and time is ? and spot_c is "
              "? and min_c is ? and max_c is ? and person is ?",
              sowing, at.date, time_text(at), spot, low, high, person)
            .next())
      continue;
    Query(merge.store,
          "insert into temperatures (sowing, day, time, spot_c, min_c, max_c, person, entry) "
          "values (?, ?, ?, ?, ?, ?, ?, ?)",
          sowing, at.date, time_text(at), spot, low, high, person, merge.entry.id())
        .run();
    ++merge.summary.temperatures_new;
  }
  for (const FlatNote& one : file.notes) {
    const records::Id sowing = merge.places.sowings[one.sowing];
    const records::Date day{std::chrono::days(one.day)};
    const std::string_view text = file.texts.text(one.text);
    const auto person = merge.person_of(one.person);
    if (merge.places.stood[one.sowing] != 0 &&
        Query(merge.store,
              "select 1 from notes where about = 'sowing' and of = ? and day = ? and text = ? and "
              "person is ?",
              sowing, day, text, person)
            .next())
      continue;
    Query(merge.store,
          "insert into notes (about, of, day, text, person, entry) values ('sowing', ?, ?, ?, ?, "
          "?)",
          sowing, day, text, person, merge.entry.id())
        .run();
    ++merge.summary.notes_new;
  }
}

}  // namespace plumule::logbook
