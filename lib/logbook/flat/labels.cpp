// A label comes back every spring: which of its sowings the logbook has, and which end because it
// is sown again.
#include <algorithm>
#include <tuple>

#include "logbook/flat/merge.hpp"
#include "logbook/record/sowings.hpp"

namespace plumule::logbook {
namespace {

// One sowing of a label: of the file, of the logbook, or of both.
struct Standing {
  std::int32_t day = 0;
  std::uint32_t sowing = FactTable::none;
  records::Id id = 0;
  bool ended = false;
  bool kept = false;  // open, and to stay so
};

records::Date date_of(std::int32_t day) { return records::Date(std::chrono::days(day)); }

// Adds what the logbook has of the label.
void add_standing(FlatMerge& merge, std::vector<Standing>& standing) {
  const std::string label = merge.text(merge.file.sowings.name(standing.front().sowing));
  Query find(merge.store, "select id, sown_on, ended_as is not null from sowings where label = ?",
             label);
  while (find.next()) {
    const auto day = static_cast<std::int32_t>(find.date(1).time_since_epoch().count());
    const auto same = std::find_if(standing.begin(), standing.end(),
                                   [day](const Standing& one) { return one.day == day; });
    if (same == standing.end()) {
      standing.push_back({day, FactTable::none, find.integer(0), find.integer(2) != 0, false});
      continue;
    }
    same->id = find.integer(0);
    same->ended = same->ended || find.integer(2) != 0;
    merge.places.sowings[same->sowing] = same->id;
    merge.places.stood[same->sowing] = 1;
  }
}

void end_earlier(FlatMerge& merge, std::vector<Standing>& standing) {
  std::sort(standing.begin(), standing.end(),
            [](const Standing& a, const Standing& b) { return a.day < b.day; });
  for (std::size_t i = 0; i + 1 < standing.size(); ++i) {
    const Standing& one = standing[i];
    const Standing& next = standing[i + 1];
    if (one.ended || one.kept || (one.id != 0 && next.id != 0)) continue;
    const std::uint32_t named = one.sowing != FactTable::none ? one.sowing : next.sowing;
    const std::string label = merge.text(merge.file.sowings.name(named));
    merge.summary.sown_over.push_back(label + '@' + records::to_text(date_of(one.day)));
    standing[i].ended = true;
    if (one.id == 0) {
      merge.places.sown_over.emplace(one.sowing, date_of(next.day));
      continue;
    }
    records::Ending ending;
    ending.kind = records::EndingKind::sown_over;
    ending.at.date = date_of(next.day);
    try {
      end_sowing(merge.entry, one.id, ending);
    } catch (const records::Refused& refused) {
      merge.errors.add(merge.file.sowings.line(next.sowing), "sown_on",
                       records::to_text(ending.at.date),
                       "an earlier sowing of the label is open and would end here: " +
                           std::string(refused.what()),
                       refused.hints());
    }
  }
}

// A label can be open once.
void refuse_two_open(FlatMerge& merge, const std::vector<Standing>& standing) {
  const Standing* open = nullptr;
  for (const Standing& one : standing) {
    if (one.ended) continue;
    if (open != nullptr && (one.id == 0 || open->id == 0)) {
      const std::uint32_t named = one.sowing != FactTable::none ? one.sowing : open->sowing;
      merge.errors.add(merge.file.sowings.line(named), "ended", "open",
                       "another sowing of the label is open too, the one sown on " +
                           records::to_text(date_of((named == one.sowing ? open : &one)->day)));
    }
    open = &one;
  }
}

}  // namespace

void settle_labels(FlatMerge& merge) {
  const FlatFile& file = merge.file;
  merge.places.sowings.assign(file.sowings.size(), 0);
  merge.places.stood.assign(file.sowings.size(), 0);
  const bool empty = !Query(merge.store, "select 1 from sowings limit 1").next();
  std::vector<std::uint32_t> order(file.sowings.size());
  for (std::uint32_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&file](std::uint32_t a, std::uint32_t b) {
    return std::tuple(file.key_label[a], a) < std::tuple(file.key_label[b], b);
  });
  std::vector<Standing> standing;
  for (std::size_t i = 0; i < order.size();) {
    const TextId label = file.key_label[order[i]];
    standing.clear();
    for (; i < order.size() && file.key_label[order[i]] == label; ++i)
      standing.push_back({file.sown_day[order[i]], order[i], 0, file.endings.count(order[i]) != 0,
                          file.kept_open.count(order[i]) != 0});
    if (!empty) add_standing(merge, standing);
    if (standing.size() < 2) continue;
    end_earlier(merge, standing);
    refuse_two_open(merge, standing);
  }
}

}  // namespace plumule::logbook
