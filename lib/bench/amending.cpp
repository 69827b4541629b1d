#include "bench/amending.hpp"

#include <algorithm>
#include <charconv>

#include "bench/counting.hpp"
#include "bench/jars.hpp"
#include "bench/stock.hpp"
#include "bench/treatments.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::bench {
namespace {

using records::Count;
using records::Refused;
using records::Sowing;

// Closed ones share their labels.
std::string name_of(const Sowing& sowing) {
  return sowing.open() ? sowing.label : sowing.dated_label();
}

// The count that is meant: at that moment; of a day without a time, the one look of that day.
Count count_meant(const std::vector<Count>& counts, const std::optional<records::Moment>& on,
                  const Sowing& sowing, records::Date today) {
  if (counts.empty()) throw Refused(name_of(sowing) + " has not been counted yet.");
  if (!on) return counts.back();
  std::vector<Count> fitting;
  for (const Count& count : counts)
    if (on->minute_of_day ? count.at == *on : count.at.date == on->date) fitting.push_back(count);
  if (fitting.size() == 1) return fitting[0];
  std::vector<std::string> days;
  for (const Count& count : fitting.empty() ? counts : fitting)
    days.push_back(fitting.empty() ? records::spoken(count.at, today) : records::to_text(count.at));
  if (!fitting.empty())
    throw Refused(name_of(sowing) + " has several looks on that day: " + records::listed(days) +
                  ". Give its time too.");
  if (days.size() > 6) days.erase(days.begin(), days.end() - 6);
  throw Refused(name_of(sowing) + " has no count of " + records::spoken(*on, today) +
                ". Its last looks: " + records::listed(days) + '.');
}

}  // namespace

CountAmended amend_count(logbook::Entry& entry, const Sowing& sowing,
                         const std::optional<records::Moment>& on,
                         const std::optional<records::Typed>& entered) {
  const std::vector<Count> before = logbook::counts_of(entry.logbook(), sowing.id);
  CountAmended amended;
  amended.was = count_meant(before, on, sowing, entry.today());
  logbook::amend_count(entry, sowing, amended.was.at, entered);
  for (const Count& count : logbook::counts_of(entry.logbook(), sowing.id)) {
    if (count.at == amended.was.at) continue;
    const auto was = look_at(before, count.at);
    if (was && was->total != count.total)
      amended.moved.push_back({count.at, count.total, was->total});
  }
  return amended;
}

records::SetAside settle(logbook::Entry& entry, const Sowing& sowing, const std::string& aside,
                         bool keep) {
  const bool doubtful = !aside.empty() && aside[0] == 'd';
  std::int64_t number = -1;
  if (aside.size() > 1 && (doubtful || aside[0] == 'r')) {
    const char* const end = aside.data() + aside.size();
    const auto read = std::from_chars(aside.data() + 1, end, number);
    if (read.ec != std::errc() || read.ptr != end) number = -1;
  }
  const auto all = doubtful ? logbook::doubtful_of(entry.logbook(), sowing.id)
                            : logbook::second_readings_of(entry.logbook(), sowing.id);
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const records::SetAside& one) { return one.id == number; });
  if (found == all.end())
    throw Refused("Nothing called " + aside + " is kept aside of " + name_of(sowing) + '.',
                  {{records::Advice::show_aside, name_of(sowing)}});
  const logbook::Settled how = keep ? logbook::Settled::kept : logbook::Settled::dropped;
  if (doubtful)
    logbook::settle_doubtful(entry, found->id, how);
  else
    logbook::settle_second_reading(entry, found->id, how);
  return *found;
}

Sowing amend_sowing(logbook::Entry& entry, const Sowing& sowing, const SowingChange& change) {
  Sowing changed = change.fields;
  if (change.lot) {
    const records::Lot lot = logbook::lot_named(entry.logbook(), *change.lot);
    changed.lot = lot.code;
    changed.crop = lot.crop;
    changed.variety = lot.variety;
  }
  if (change.trial) {
    changed.trial = change.trial->empty()
                        ? std::string()
                        : logbook::trial_named(entry.logbook(), *change.trial).code;
    if (changed.trial != sowing.trial) changed.block.clear();
  }
  if (change.block) changed.block = *change.block;
  if (change.treatment) {
    changed.treatment = change.treatment->label;
    if (changed.treatment != sowing.treatment) changed.batch.clear();
  }
  if (change.jar) {
    changed.batch.clear();
    if (!change.jar->empty()) put_in_jar(entry, *change.jar, changed);
  }
  if (change.soak_changes)
    refuse_other_soak(logbook::treatment_named(entry.logbook(), changed.treatment), changed);
  logbook::change_sowing(entry, changed);
  correct_stock(entry, sowing, changed);
  return changed;
}

}  // namespace plumule::bench
