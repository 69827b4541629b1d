// What the record made of a figure is read back from it, not guessed.
#include "bench/counting.hpp"

#include <algorithm>

#include "crops/clusters.hpp"
#include "crops/names.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/trials.hpp"

namespace plumule::bench {
namespace {

// What the second reading just kept is called.
std::string second_reading_of(logbook::Entry& entry, const records::Sowing& sowing,
                              const records::Count& count) {
  for (const records::SetAside& kept : logbook::second_readings_of(entry.logbook(), sowing.id))
    if (kept.count.at == count.at && kept.count.entered == count.entered &&
        kept.count.by == count.by)
      return 'r' + std::to_string(kept.id);
  return "ID";
}

}  // namespace

std::optional<records::Count> look_before(const std::vector<records::Count>& counts,
                                          const records::Moment& at) {
  std::optional<records::Count> found;
  for (const records::Count& count : counts)
    if (count.at.minutes() < at.minutes()) found = count;
  return found;
}

std::optional<records::Count> look_at(const std::vector<records::Count>& counts,
                                      const records::Moment& at) {
  for (const records::Count& count : counts)
    if (count.at.minutes() == at.minutes()) return count;
  return {};
}

std::int64_t lost_before(const std::vector<records::Count>& counts, const records::Moment& at) {
  std::int64_t lost = 0;
  for (const records::Count& count : counts)
    if (count.at.minutes() < at.minutes()) lost += count.entered.lost;
  return lost;
}

Noted note_count(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 const records::Typed& typed) {
  Noted noted;
  noted.sowing = sowing;
  noted.blind = logbook::is_blind(entry.logbook(), sowing.trial);
  noted.count.at = at;
  noted.count.by = entry.by();
  records::Typed taken = typed;
  switch (logbook::record_typed(entry, sowing, at, noted.count.by, taken)) {
    case logbook::Kept::saved:
      break;
    case logbook::Kept::nothing_new:
      noted.fate = Fate::nothing_new;
      break;
    case logbook::Kept::second_reading:
      noted.fate = Fate::second_reading;
      break;
  }
  noted.count.entered = taken.entered;
  noted.taken_as_standing = typed.plain && taken.entered.kind == records::CountKind::standing;
  const std::vector<records::Count> counts = logbook::counts_of(entry.logbook(), sowing.id);
  noted.before = look_before(counts, at);
  noted.lost_before = lost_before(counts, at);
  if (noted.fate == Fate::second_reading)
    noted.aside = second_reading_of(entry, sowing, noted.count);
  else if (const auto kept = look_at(counts, at))
    noted.count = *kept;
  return noted;
}

std::optional<records::Refusal> against(logbook::Logbook& logbook, const records::Sowing& sowing,
                                        const records::Moment& at, const records::Typed& typed) {
  const std::vector<records::Count> was = logbook::counts_of(logbook, sowing.id);
  std::vector<records::Count> counts = was;
  if (look_at(counts, at)) return std::nullopt;
  std::size_t place = 0;
  while (place < counts.size() && counts[place].at.minutes() < at.minutes()) ++place;
  counts.insert(counts.begin() + static_cast<std::ptrdiff_t>(place),
                records::Count{at, typed.entered, {}, 0});
  auto trouble = records::derive(sowing, counts);
  if (!trouble) trouble = records::more_lost_than_stood(was, counts, place, typed.came_lost);
  if (!trouble) return std::nullopt;
  return records::explain(sowing, counts, *trouble, place, {},
                          logbook::is_blind(logbook, sowing.trial) ? records::Figures::hidden
                                                                   : records::Figures::shown);
}

Noted note_doubtful(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                    const records::Entered& entered, const std::string& why) {
  Noted noted;
  noted.sowing = sowing;
  noted.blind = logbook::is_blind(entry.logbook(), sowing.trial);
  noted.count.at = at;
  noted.count.entered = entered;
  noted.count.by = entry.by();
  noted.fate = Fate::doubtful;
  noted.why = why;
  noted.aside = 'd' + std::to_string(logbook::keep_doubtful(entry, sowing, noted.count, noted.why));
  return noted;
}

std::optional<ManySeedlings> many_seedlings(const Noted& noted) {
  const records::Sowing& sowing = noted.sowing;
  const auto seedlings = noted.count.entered.seedlings;
  if (sowing.unit != records::UnitKind::cluster || noted.blind || noted.count.total < 1 ||
      !seedlings)
    return std::nullopt;
  const crops::Crop* crop = crops::find_crop(sowing.crop).crop;
  std::optional<double> most;
  if (crop != nullptr)
    for (const crops::Cluster& cluster : crops::clusters_of(*crop))
      most = std::max(most.value_or(0), cluster.seedlings_high.value_or(cluster.seedlings_low));
  const double each = static_cast<double>(*seedlings) / static_cast<double>(noted.count.total);
  if (!most || each <= *most + 0.5) return std::nullopt;  // half a seedling more is chance
  return ManySeedlings{each, *most};
}

}  // namespace plumule::bench
