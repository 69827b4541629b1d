// A tray that joined a trial by itself would change what the trial says, so it is only pointed out.
#include "bench/trials.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "logbook/journal/sowings_changed.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/last_day.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/trials.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::bench {
namespace {

using records::Advice;

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

ChosenTrial no_trial(logbook::Logbook& logbook, const TrialAsked& asked,
                     const std::vector<std::string>& lots) {
  if (asked.in_block)
    throw records::Refused(
        "A block is part of a trial.",
        {{.advice = Advice::name_trial, .said = records::listed(trials_with(logbook, {}), "or")}});
  if (lots.empty()) return {};
  return {{}, false, trials_with(logbook, lots)};
}

[[noreturn]] void refuse_unknown(logbook::Logbook& logbook, const std::string& name) {
  std::vector<std::string> codes;
  for (const records::Trial& trial : logbook::trials(logbook)) codes.push_back(trial.code);
  const std::vector<std::string> near = records::nearest(name, codes);
  throw records::Refused(fmt::format("There is no trial {} yet{}.", name,
                                     near.empty() ? "" : " (but " + records::listed(near) + ")"),
                         {{Advice::make_trial}});
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

void lay_plan(const TrialPlan& plan, records::Date sown, records::Trial& trial) {
  if (plan.question) trial.question = *plan.question;
  if (plan.until) trial.closes_on = plan.until;
  if (plan.worth) trial.worth = plan.worth;
  if (plan.blind) trial.blind = *plan.blind;
  if (!plan.every) return;
  if (!trial.closes_on || *trial.closes_on <= sown)
    throw records::Refused(
        "Looks are planned up to a last day, which comes after the sowing: give that too.");
  trial.inspections.clear();
  const std::chrono::days step(*plan.every);
  for (records::Date day = sown + step; day <= *trial.closes_on; day += step)
    trial.inspections.push_back(day);
}

ChosenTrial choose_trial(logbook::Entry& entry, const TrialAsked& asked,
                         const std::vector<std::string>& lots, records::Date sown) {
  logbook::Logbook& logbook = entry.logbook();
  if (!asked.name) return no_trial(logbook, asked, lots);
  if (asked.name->empty()) return {};
  if (auto found = logbook::find_trial(logbook, *asked.name)) {
    if (asked.plan.given()) {
      lay_plan(asked.plan, sown, *found);
      logbook::change_trial(entry, *found);
    }
    return {found->code, false, {}};
  }
  if (!asked.plan.given() && !asked.may_be_new) refuse_unknown(logbook, *asked.name);
  records::Trial made;
  made.code = *asked.name;
  lay_plan(asked.plan, sown, made);
  logbook::add_trial(entry, made);
  return {made.code, true, {}};
}

std::optional<TrialSowings> trial_sowings(logbook::Logbook& logbook, const std::string& code) {
  auto trial = logbook::find_trial(logbook, code);
  if (!trial) return std::nullopt;
  logbook::Selection selection;
  selection.trial = code;
  std::vector<records::History> histories = logbook::histories(logbook, selection);
  if (histories.empty()) return std::nullopt;
  trial->moved = logbook::last_day_moved(logbook, *trial);
  return TrialSowings{std::move(*trial), std::move(histories)};
}

std::vector<std::string> changed_after_counts(logbook::Logbook& logbook,
                                              const std::vector<records::Sowing>& amended) {
  std::set<std::string> trials;
  for (const records::Sowing& one : amended)
    for (const std::string& trial : {one.trial, logbook::sowing_by_id(logbook, one.id).trial})
      if (!trial.empty()) trials.insert(trial);
  std::vector<std::string> found;
  for (const std::string& code : trials) {
    const auto trial = logbook::find_trial(logbook, code);
    const auto changed = trial ? logbook::sowings_changed(logbook, *trial) : std::nullopt;
    if (!changed) continue;
    const bool named = std::any_of(amended.begin(), amended.end(), [&](const auto& sowing) {
      return is_named(*changed, logbook::sowing_by_id(logbook, sowing.id).label);
    });
    if (named) found.push_back(code);
  }
  return found;
}

records::Date looks_from(logbook::Logbook& logbook, const std::string& code, records::Date today) {
  std::optional<records::Date> sown;
  for (const records::Sowing& sowing : logbook::open_sowings(logbook))
    if (sowing.trial == code && (!sown || sowing.sown.date < *sown)) sown = sowing.sown.date;
  return sown.value_or(today);
}

PlanAmended amend_plan(logbook::Entry& entry, const std::string& code, const TrialPlan& plan) {
  PlanAmended amended;
  amended.before = amended.after = logbook::trial_named(entry.logbook(), code);
  lay_plan(plan, looks_from(entry.logbook(), amended.before.code, entry.today()), amended.after);
  logbook::change_trial(entry, amended.after);
  return amended;
}

}  // namespace plumule::bench
