// What stood before is never overwritten silently: it is said here, and kept by the logbook.
#include "cli/amending.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cli/counting.hpp"
#include "cli/options/sowing_fields.hpp"
#include "cli/options/treatment_fields.hpp"
#include "cli/options/trial_fields.hpp"
#include "cli/showing/plan_showing.hpp"
#include "cli/showing/wording.hpp"
#include "cli/stock_taking.hpp"
#include "logbook/journal/sowings_changed.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

// The count that is meant: at that moment; of a day without a time, the one look of that day.
records::Count count_meant(const std::vector<records::Count>& counts,
                           const std::optional<records::Moment>& on, const records::Sowing& sowing,
                           records::Date today) {
  if (counts.empty()) throw records::Refused(name_of(sowing) + " has not been counted yet.");
  if (!on) return counts.back();
  std::vector<records::Count> fitting;
  for (const records::Count& count : counts) {
    if (on->minute_of_day ? count.at == *on : count.at.date == on->date) fitting.push_back(count);
  }
  if (fitting.size() == 1) return fitting[0];
  std::vector<std::string> days;
  for (const records::Count& count : fitting.empty() ? counts : fitting)
    days.push_back(fitting.empty() ? day_of(count.at, today) : records::to_text(count.at));
  if (!fitting.empty())
    throw records::Refused(fmt::format("{} has several looks on that day: {}. Give its time too.",
                                       name_of(sowing), listed(days)));
  if (days.size() > 6) days.erase(days.begin(), days.end() - 6);
  throw records::Refused(fmt::format("{} has no count of {}. Its last looks: {}.", name_of(sowing),
                                     day_of(*on, today), listed(days)));
}

records::Entered entered_of(const std::string& value) {
  if (value[0] == '+') return records::parse_entered(value.substr(1), true);
  return records::parse_entered(value[0] == '=' ? value.substr(1) : value, false);
}

bool is_named(const records::SowingsChanged& changed, const std::string& label) {
  const auto in = [&](const std::vector<std::string>& labels) {
    return std::find(labels.begin(), labels.end(), label) != labels.end();
  };
  return in(changed.left) || in(changed.joined) ||
         std::any_of(changed.changed.begin(), changed.changed.end(),
                     [&](const auto& one) { return one.label == label; });
}

}  // namespace

void declare_identity(Options& options) {
  options.heading("Which sowing it is");
  options.text("label", "LABEL", "the sowing's own label");
  options.text("lot", "LOT", "its lot");
  options.moment("sown", "when it was sown");
  options.text("trial", "NAME", "its trial; none for none");
  options.text("block", "NAME", "its block");
  options.text("jar", "NAME", "its jar");
}

bool gives_identity(const Arguments& arguments) {
  for (const char* name : {"label", "lot", "sown", "trial", "block", "jar", "treatment"})
    if (arguments.has(name)) return true;
  return false;
}

std::vector<std::string> amend_count(logbook::Entry& entry, const Arguments& arguments,
                                     const records::Sowing& sowing, const std::string& value) {
  const records::Date today = entry.today();
  const std::vector<records::Count> before = logbook::counts_of(entry.logbook(), sowing.id);
  const records::Count meant = count_meant(before, arguments.moment("on"), sowing, today);
  std::optional<records::Entered> entered;
  if (!value.empty()) entered = entered_of(value);
  logbook::amend_count(entry, sowing, meant.at, entered);

  std::vector<std::string> told;
  told.push_back(fmt::format("{}: {}, was {}", day_of(meant.at, today),
                             entered ? in_words(*entered) : "no look", in_words(meant.entered)));
  const std::vector<records::Count> after = logbook::counts_of(entry.logbook(), sowing.id);
  for (const records::Count& count : after) {
    if (count.at == meant.at) continue;
    const auto was = look_at(before, count.at);
    if (was && was->total != count.total)
      told.push_back(fmt::format("{}: {} up in all, was {}", day_of(count.at, today), count.total,
                                 was->total));
  }
  return told;
}

std::string settle(logbook::Entry& entry, const records::Sowing& sowing, const std::string& id,
                   bool keep) {
  const bool doubtful = !id.empty() && id[0] == 'd';
  const bool numbered = id.size() > 1 && (doubtful || id[0] == 'r');
  const std::int64_t number = numbered ? read_whole(id.substr(1)).value_or(-1) : -1;
  const auto all = doubtful ? logbook::doubtful_of(entry.logbook(), sowing.id)
                            : logbook::second_readings_of(entry.logbook(), sowing.id);
  const auto found = std::find_if(
      all.begin(), all.end(), [&](const records::SetAside& aside) { return aside.id == number; });
  if (found == all.end())
    throw records::Refused(
        fmt::format("Nothing called {0} is kept aside of {1}. plumule amend {1} "
                    "shows what is.",
                    id, name_of(sowing)));
  const logbook::Settled how = keep ? logbook::Settled::kept : logbook::Settled::dropped;
  if (doubtful)
    logbook::settle_doubtful(entry, found->id, how);
  else
    logbook::settle_second_reading(entry, found->id, how);
  return fmt::format("{}: {} {}", day_of(found->count.at, entry.today()),
                     in_words(found->count.entered), keep ? "now counts" : "is left out for good");
}

std::vector<std::string> amend_sowing(logbook::Entry& entry, const Arguments& arguments,
                                      const records::Sowing& sowing) {
  records::Sowing changed = sowing;
  lay_fields(arguments, changed);
  if (const auto label = arguments.text("label")) changed.label = *label;
  if (const auto sown = arguments.moment("sown")) changed.sown = *sown;
  if (const auto name = arguments.text("lot")) {
    const records::Lot lot = logbook::lot_named(entry.logbook(), *name);
    changed.lot = lot.code;
    changed.crop = lot.crop;
    changed.variety = lot.variety;
  }
  if (const auto trial = arguments.text("trial")) {
    changed.trial = *trial == "none" ? "" : logbook::trial_named(entry.logbook(), *trial).code;
    if (changed.trial != sowing.trial) changed.block.clear();
  }
  if (const auto block = arguments.text("block")) changed.block = *block;
  if (arguments.has("treatment") || arguments.has("soak")) {
    const Treatments typed = treatments_typed(entry, arguments);
    if (typed.all.size() != 1) throw WrongUsage("A sowing has one treatment.");
    changed.treatment = typed.all[0].label;
    if (changed.treatment != sowing.treatment) changed.batch.clear();
  }
  if (const auto jar = arguments.text("jar")) {
    changed.batch.clear();
    if (*jar != "none") put_in_jar(entry, *jar, changed);
  }
  for (const char* option : {"wetted", "sown", "treatment", "soak"})
    if (arguments.has(option))
      check_wetting(logbook::treatment_named(entry.logbook(), changed.treatment), changed);
  logbook::change_sowing(entry, changed);
  correct_stock(entry, sowing, changed);
  return differences(sowing, changed);
}

std::vector<std::string> jars_so_far(logbook::Logbook& logbook,
                                     const std::vector<records::Sowing>& amended) {
  std::vector<std::string> told;
  for (const records::Sowing& one : amended) {
    if (one.trial.empty()) continue;
    const records::Sowing now = logbook::sowing_by_id(logbook, one.id);
    logbook::Selection selection;
    selection.trial = now.trial;
    selection.treatment = now.treatment;
    std::int64_t all = 0;
    std::int64_t in_jars = 0;
    logbook::each_history(logbook, selection, [&](const records::History& history) {
      ++all;
      if (!history.sowing.batch.empty()) ++in_jars;
    });
    if (in_jars == 0 || in_jars == all) continue;
    const std::string line =
        fmt::format("Trial {}: a jar is recorded for {} of its {} sowings of {}.", now.trial,
                    in_jars, all, now.treatment);
    if (std::find(told.begin(), told.end(), line) == told.end()) told.push_back(line);
  }
  return told;
}

std::vector<std::string> changed_after_counts(logbook::Logbook& logbook,
                                              const std::vector<records::Sowing>& amended) {
  std::set<std::string> trials;
  for (const records::Sowing& one : amended)
    for (const std::string& trial : {one.trial, logbook::sowing_by_id(logbook, one.id).trial})
      if (!trial.empty()) trials.insert(trial);
  std::vector<std::string> told;
  for (const std::string& code : trials) {
    const auto trial = logbook::find_trial(logbook, code);
    const auto changed = trial ? logbook::sowings_changed(logbook, *trial) : std::nullopt;
    if (!changed) continue;
    const bool named = std::any_of(amended.begin(), amended.end(), [&](const auto& sowing) {
      return is_named(*changed, logbook::sowing_by_id(logbook, sowing.id).label);
    });
    if (named)
      told.push_back(fmt::format(
          "Trial {} has been counted before: compare will say that this was done with the counts "
          "in sight, and ask for more evidence. Not meant? plumule undo",
          code));
  }
  return told;
}

std::vector<std::string> amend_trial(logbook::Entry& entry, const Arguments& arguments,
                                     const std::string& code) {
  const records::Trial before = logbook::trial_named(entry.logbook(), code);
  records::Trial after = before;
  std::optional<records::Date> sown;
  for (const records::Sowing& sowing : logbook::open_sowings(entry.logbook()))
    if (sowing.trial == before.code && (!sown || sowing.sown.date < *sown)) sown = sowing.sown.date;
  lay_plan(arguments, sown.value_or(entry.today()), after);
  logbook::change_trial(entry, after);
  std::vector<std::string> told = differences(before, after);
  const auto last = last_day_of(entry.logbook(), after.code, entry.today());
  if (last && last->moved && before.closes_on != after.closes_on)
    told.push_back(fmt::format(
        "Counting had begun: compare keeps to {}, {}, and says that the day was moved. Not meant? "
        "plumule undo",
        records::spoken(last->day, true), last->planned ? "fixed before it" : "by " + last->basis));
  return told;
}

std::vector<std::string> amend_treatment(logbook::Entry& entry, const Arguments& arguments,
                                         const std::string& label) {
  const records::Treatment before = logbook::treatment_named(entry.logbook(), label);
  records::Treatment after = before;
  lay_facts(arguments, after);
  logbook::change_treatment(entry, after);
  const std::string was = in_words(before);
  const std::string is = in_words(after);
  if (was == is) return {};
  return {fmt::format("{}, was {}", is.empty() ? "no facts" : is, was.empty() ? "no facts" : was)};
}

}  // namespace plumule::cli
