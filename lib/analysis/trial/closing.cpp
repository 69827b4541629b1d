#include "analysis/trial/closing.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "analysis/course/sowing_course.hpp"
#include "analysis/course/sown_in.hpp"
#include "crops/names.hpp"

namespace plumule::analysis {

namespace {

int days_from(records::Date first, records::Date day) {
  return static_cast<int>((day - first).count());
}

std::optional<records::Date> planned_day(const std::optional<records::Trial>& trial) {
  if (!trial) return std::nullopt;
  if (trial->moved) return trial->moved->fixed;
  if (trial->closes_on) return trial->closes_on;
  if (!trial->inspections.empty()) return trial->inspections.back();
  return std::nullopt;
}

// The latest give-up day over the sowings; none where the crop of any is not known.
std::optional<int> give_up_day(std::span<const records::History> histories, records::Date first,
                               std::string& how) {
  int latest = 0;
  for (const auto& history : histories) {
    const auto match = crops::find_crop(history.sowing.crop);
    if (!match.crop) return std::nullopt;
    // As it was known at sowing: temperatures read later don't move the day.
    const auto give_up =
        crops::give_up_days(*match.crop, std::nullopt, sown_in(history.sowing.setting));
    if (!give_up) return std::nullopt;
    const int day =
        days_from(first, history.sowing.sown.date) + static_cast<int>(std::lround(give_up->days));
    if (day <= latest) continue;
    latest = day;
    how = give_up->how;
  }
  return latest;
}

}  // namespace

TrialState trial_state(std::span<const records::History> histories,
                       const std::optional<records::Trial>& trial, records::Date today) {
  if (histories.empty()) throw std::domain_error("a trial without sowings has no state");
  TrialState state;
  state.first_day = histories.front().sowing.sown.date;
  records::Date last_sowing = state.first_day;
  for (const auto& history : histories) {
    state.first_day = std::min(state.first_day, history.sowing.sown.date);
    last_sowing = std::max(last_sowing, history.sowing.sown.date);
  }
  std::vector<stats::FollowedSowing> sowings;
  records::Date now = std::max(today, last_sowing);
  for (const auto& history : histories) {
    if (!history.counts.empty()) {
      const records::Date last = history.counts.back().at.date;
      now = std::max(now, last);
      state.last_look = std::max(last, state.last_look.value_or(last));
    }
    sowings.push_back(followed(history, state.first_day));
  }
  state.now = days_from(state.first_day, now);
  if (trial) {
    state.moved = trial->moved;
    state.sowings_changed = trial->sowings_changed;
  }

  std::optional<int> plan;
  if (const auto day = planned_day(trial)) {
    if (*day >= last_sowing)
      plan = days_from(state.first_day, *day);
    else
      state.plan_too_early = true;
  }
  std::optional<int> give_up;
  if (!plan) give_up = give_up_day(histories, state.first_day, state.give_up_basis);
  state.closing = stats::trial_closing(sowings, state.now, plan, give_up);
  state.planned_last_day = state.first_day + std::chrono::days(state.closing.planned_last_day);
  if (state.closing.closed_on)
    state.closed_on = state.first_day + std::chrono::days(*state.closing.closed_on);
  return state;
}

}  // namespace plumule::analysis
