#include "bench/count_walk.hpp"

#include <algorithm>

#include "logbook/record/aside.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/trials.hpp"

namespace plumule::bench {
namespace {

// Whether that person has a second reading of that moment.
bool has_read(logbook::Logbook& logbook, records::Id sowing, const records::Moment& at,
              const std::string& by) {
  const std::vector<records::SetAside> readings = logbook::second_readings_of(logbook, sowing);
  return std::any_of(readings.begin(), readings.end(), [&](const records::SetAside& reading) {
    return reading.count.at.minutes() == at.minutes() && reading.count.by == by;
  });
}

}  // namespace

CountWalk count_walk(logbook::Logbook& logbook, const records::Moment& at, const std::string& by,
                     const std::set<std::string>& due) {
  CountWalk walk;
  for (const records::Sowing& sowing : logbook::open_sowings(logbook)) {
    if (sowing.sown.date >= at.date) continue;
    const std::vector<records::Count> counts = logbook::counts_of(logbook, sowing.id);
    const auto there = look_at(counts, at);
    if (there && (there->by == by || there->by.empty() || has_read(logbook, sowing.id, at, by))) {
      ++walk.counted_already;
      continue;
    }
    Stop stop;
    stop.sowing = sowing;
    stop.before = look_before(counts, at);
    stop.lost = lost_before(counts, at);
    stop.due = due.contains(sowing.label);
    stop.blind = logbook::is_blind(logbook, sowing.trial);
    if (there) stop.other = there->by;
    walk.stops.push_back(std::move(stop));
  }
  std::stable_partition(walk.stops.begin(), walk.stops.end(),
                        [](const Stop& stop) { return stop.due; });
  return walk;
}

std::optional<Noted> answer(logbook::Entry& entry, const records::Moment& at, Stop& stop,
                            const std::optional<records::Typed>& typed) {
  if (!stop.aside.empty())
    throw records::Refused(
        "What you gave for " + stop.sowing.label + " stands beside the figure of " + stop.other +
            " as a second reading. Which holds?",
        {{.advice = records::Advice::settle_aside, .name = stop.sowing.label, .said = stop.aside}});
  std::optional<Noted> noted;
  if (stop.given) {
    std::optional<records::Typed> taken = typed;
    logbook::amend_typed(entry, stop.sowing, at, taken);
    stop.given.reset();
    if (taken) stop.given = taken->entered;
  } else if (typed) {
    noted = note_count(entry, stop.sowing, at, *typed);
    if (noted->fate == Fate::second_reading) stop.aside = noted->aside;
    stop.given = noted->count.entered;
  }
  return noted;
}

}  // namespace plumule::bench
