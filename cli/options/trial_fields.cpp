// A trial's plan is fixed before its first count: its last day and the difference worth having.
#include "cli/options/trial_fields.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/showing/wording.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/trials.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void add(std::vector<std::string>& to, std::string_view name, const std::string& before,
         const std::string& after) {
  if (before == after) return;
  to.push_back(fmt::format("{}: {}, was {}", name, after.empty() ? "none" : after,
                           before.empty() ? "none" : before));
}

// The open trials that a lot of these is sown in, or all of them where no lot is named.
std::vector<std::string> trials_with(logbook::Logbook& logbook,
                                     const std::vector<std::string>& lots) {
  std::vector<std::string> codes;
  for (const records::Sowing& sowing : logbook::open_sowings(logbook)) {
    if (sowing.trial.empty() || std::find(codes.begin(), codes.end(), sowing.trial) != codes.end())
      continue;
    const bool fits =
        lots.empty() || std::any_of(lots.begin(), lots.end(), [&](const std::string& lot) {
          return records::same_label(sowing.lot, lot);
        });
    if (fits) codes.push_back(sowing.trial);
  }
  return codes;
}

// A tray that joined a trial by itself would change what the trial says: it is only pointed out. A
// block without a trial is a slip, and refused.
std::string hint_of_trial(logbook::Logbook& logbook, const Arguments& arguments,
                          const std::vector<std::string>& lots) {
  const bool in_block = arguments.has("block") || arguments.has("blocks");
  const std::vector<std::string> open =
      trials_with(logbook, in_block ? std::vector<std::string>{} : lots);
  if (in_block) {
    if (open.empty())
      throw records::Refused("A block is part of a trial. Which one? --trial NAME.");
    throw records::Refused(
        fmt::format("A block is part of a trial. Which one? --trial {}.", listed(open, "or")));
  }
  if (lots.empty() || open.empty()) return {};
  return fmt::format("In no trial. Of this lot {} is open; part of it? plumule amend {} --trial {}",
                     listed(open), arguments.words().empty() ? "NAME" : arguments.words()[0],
                     open[0]);
}

}  // namespace

void declare_trial_plan(Options& options) {
  options.text("question", "WORDS", "what the trial asks");
  options.erasable("question");
  options.date("until", "its planned last day");
  options.whole("every", "DAYS", "planned looks: every so many days", 1, 365);
  options.points("worth", "the smallest difference in stand worth having, such as 10");
  options.flag("blind", "earlier figures are hidden in the walk");
  options.flag("open-eyed", "they are not");
}

bool gives_trial_plan(const Arguments& arguments) {
  for (const char* name : {"question", "until", "every", "worth", "blind", "open-eyed"})
    if (arguments.has(name)) return true;
  return false;
}

void lay_plan(const Arguments& arguments, records::Date sown, records::Trial& trial) {
  if (const auto words = arguments.text("question")) trial.question = *words;
  if (const auto day = arguments.date("until")) trial.closes_on = day;
  if (const auto share = arguments.number("worth")) trial.worth = share;
  if (arguments.flag("blind") && arguments.flag("open-eyed"))
    throw WrongUsage("--blind and --open-eyed are both given. Which is it?");
  if (arguments.flag("blind")) trial.blind = true;
  if (arguments.flag("open-eyed")) trial.blind = false;
  if (const auto every = arguments.whole("every")) {
    if (!trial.closes_on)
      throw WrongUsage("--every plans looks up to the last day: give that too, --until DATE.");
    if (*trial.closes_on <= sown) throw WrongUsage("--until: the last day comes after the sowing.");
    trial.inspections.clear();
    const std::chrono::days step(*every);
    for (records::Date day = sown + step; day <= *trial.closes_on; day += step)
      trial.inspections.push_back(day);
  }
}

std::vector<std::string> differences(const records::Trial& before, const records::Trial& after) {
  std::vector<std::string> all;
  const auto day = [](const std::optional<records::Date>& date) {
    return date ? records::to_text(*date) : std::string();
  };
  const auto share = [](const std::optional<double>& value) {
    return value ? records::shown(*value * 100) + " points" : std::string();
  };
  add(all, "question", before.question, after.question);
  add(all, "last day", day(before.closes_on), day(after.closes_on));
  add(all, "worth", share(before.worth), share(after.worth));
  add(all, "blind", before.blind ? "yes" : "no", after.blind ? "yes" : "no");
  if (before.inspections != after.inspections)
    add(all, "planned looks", std::to_string(before.inspections.size()),
        std::to_string(after.inspections.size()));
  return all;
}

ChosenTrial trial_typed(logbook::Entry& entry, const Arguments& arguments,
                        const std::vector<std::string>& lots, records::Date sown,
                        bool whole_trial) {
  const auto name = arguments.text("trial");
  if (!name) {
    if (gives_trial_plan(arguments))
      throw WrongUsage("Which trial? --trial NAME beside its question or last day.");
    return {{}, false, hint_of_trial(entry.logbook(), arguments, lots)};
  }
  if (*name == "none") return {};
  const bool plan = gives_trial_plan(arguments);
  if (auto found = logbook::find_trial(entry.logbook(), *name)) {
    if (plan) {
      lay_plan(arguments, sown, *found);
      logbook::change_trial(entry, *found);
    }
    return {found->code, false, {}};
  }
  if (!plan && !whole_trial && !arguments.flag("new")) {
    std::vector<std::string> codes;
    for (const records::Trial& trial : logbook::trials(entry.logbook()))
      codes.push_back(trial.code);
    const std::vector<std::string> near = records::nearest(*name, codes);
    throw records::Refused(fmt::format(
        "There is no trial {} yet{}. A new one is made with its --question or last day (--until "
        "DATE), or without any by --new.",
        *name, near.empty() ? "" : " (but " + listed(near) + ")"));
  }
  records::Trial made;
  made.code = *name;
  lay_plan(arguments, sown, made);
  logbook::add_trial(entry, made);
  return {made.code, true, {}};
}

}  // namespace plumule::cli
