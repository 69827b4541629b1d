#include "analysis/due_today.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/course/sown_in.hpp"
#include "crops/names.hpp"
#include "stats/times/quiet.hpp"

namespace plumule::analysis {

namespace {

using records::Date;

int days_between(Date from, Date to) { return static_cast<int>((to - from).count()); }

const records::Trial* trial_of(std::span<const records::Trial> trials, const std::string& code) {
  if (code.empty()) return nullptr;
  for (const auto& trial : trials)
    if (trial.code == code) return &trial;
  return nullptr;
}

struct Seen {
  OpenSowing sowing;
  std::optional<Date> last_new;
  double last_new_day = 0;  // since sowing, fractions too
  double last_look_day = 0;
};

Seen seen(const records::History& history, Date today) {
  Seen result;
  const auto& sowing = history.sowing;
  result.sowing.crop = sowing.crop;
  result.sowing.place = sowing.place;
  result.sowing.day = days_between(sowing.sown.date, today);
  if (sowing.units_known != records::UnitsKnown::unknown) result.sowing.units = sowing.units;
  bool units_counted = false;
  for (const auto& count : history.counts) {
    if (count.at.date > today) break;
    result.sowing.last_on = count.at.date;
    result.last_look_day = records::days_between(sowing.sown, count.at);
    const bool seedlings = count.entered.kind == records::CountKind::seedlings;
    if (count.total > result.sowing.up ||
        (seedlings && count.entered.seedlings.value_or(0) > 0 && !result.last_new)) {
      result.last_new = count.at.date;
      result.last_new_day = result.last_look_day;
    }
    result.sowing.up = count.total;
    units_counted = units_counted || !seedlings;
    if (seedlings) result.sowing.seedlings = count.entered.seedlings;
  }
  if (units_counted) result.sowing.seedlings.reset();
  return result;
}

std::optional<Done> done(const Seen& seen) {
  const auto& sowing = seen.sowing;
  if (!seen.last_new || !sowing.last_on) return std::nullopt;
  Done result{sowing, sowing.units && sowing.up == *sowing.units, *seen.last_new, 0, 0};
  result.quiet_days = days_between(*seen.last_new, *sowing.last_on);
  result.needed = static_cast<int>(std::ceil(stats::quiet_days_needed(seen.last_new_day)));
  if (!result.all_up && !stats::come_to_rest(seen.last_new_day, seen.last_look_day))
    return std::nullopt;
  return result;
}

// The day by which the crop's own days say that it should be up; none where they can't tell.
std::optional<Late> should_be_up(const records::History& history, const Seen& seen) {
  if (seen.sowing.up > 0 || seen.last_new) return std::nullopt;
  const auto match = crops::find_crop(history.sowing.crop);
  if (!match.crop) return std::nullopt;
  const auto soil = soil_temperature(history);
  const double temperature = soil.mean_c ? *soil.mean_c : soil.spot_c.value_or(20);
  const auto expected = crops::expected_days(*match.crop, temperature);
  if (expected.days <= 0) return std::nullopt;
  Late late{seen.sowing, static_cast<int>(std::ceil(expected.days - 1e-9)), expected.how};
  if (!soil.mean_c)
    late.how += soil.spot_c ? "; a morning's reading, so rather the cold end"
                            : "; if the soil is near 20 C, no temperature being noted";
  if (seen.sowing.day <= late.expected_day) return std::nullopt;
  return late;
}

// The give-up day, once it is past.
std::optional<Late> past_give_up(const records::History& history, const Seen& seen) {
  const auto give_up = give_up_of(history);
  if (!give_up) return std::nullopt;
  const int day = static_cast<int>(std::lround(give_up->days));
  if (seen.sowing.day <= day) return std::nullopt;
  return Late{seen.sowing, day, give_up->how};
}

// Looked at on that day or later, and found nothing new: only that makes more unlikely.
bool seen_to_the_end(const records::History& history, const Seen& seen, const Late& late) {
  const auto& last = seen.sowing.last_on;
  return last && days_between(history.sowing.sown.date, *last) >= late.expected_day &&
         seen.last_new != last;
}

// The days on which it was due since its last look, up to and with today.
std::vector<Date> days_due(const records::History& history, const records::Trial* trial,
                           const Seen& seen, Date today) {
  const Date sown = history.sowing.sown.date;
  const Date from = std::max(seen.sowing.last_on.value_or(sown), sown);
  std::vector<Date> result;
  if (trial && !trial->inspections.empty()) {
    for (const Date day : trial->inspections)
      if (day > from && day <= today) result.push_back(day);
    return result;
  }
  Date first = from + std::chrono::days(1);
  if (!seen.last_new) first = std::max(first, sown + std::chrono::days(first_look_day(history)));
  for (Date day = first; day <= today; day += std::chrono::days(1)) result.push_back(day);
  return result;
}

std::optional<Date> next_look(const records::History& history, const records::Trial* trial,
                              Date today) {
  if (!trial || trial->inspections.empty())
    return std::max(today, history.sowing.sown.date + std::chrono::days(first_look_day(history)));
  for (const Date day : trial->inspections)
    if (day > today) return day;
  return std::nullopt;
}

}  // namespace

DueToday due_today(std::span<const records::History> open, std::span<const records::Trial> trials,
                   Date today) {
  DueToday result;
  result.today = today;
  for (const auto& history : open) {
    if (history.sowing.sown.date > today) continue;
    const auto* trial = trial_of(trials, history.sowing.trial);
    auto now = seen(history, today);
    now.sowing.name = history.sowing.label;
    now.sowing.hidden = trial && trial->blind;
    if (auto finished = done(now)) {
      result.done.push_back(std::move(*finished));
      continue;
    }
    auto past = past_give_up(history, now);
    if (past && seen_to_the_end(history, now, *past)) {
      result.past_give_up.push_back(std::move(*past));
      continue;
    }
    auto days = days_due(history, trial, now, today);
    const bool counted_today = now.sowing.last_on == today;
    if (auto late = now.sowing.hidden ? std::nullopt : should_be_up(history, now)) {
      late->due = !counted_today && !days.empty();
      result.should_be_up.push_back(std::move(*late));
      continue;
    }
    if (counted_today) {
      result.counted.push_back(now.sowing);
      continue;
    }
    if (days.empty()) {
      result.not_due.push_back({now.sowing.name, next_look(history, trial, today)});
      continue;
    }
    const bool planned = trial && !trial->inspections.empty();
    if (days.back() == today) days.pop_back();
    Due due{now.sowing, planned, std::move(days), std::nullopt};
    if (past) due.last_count_day = past->expected_day;
    result.due.push_back(std::move(due));
  }
  return result;
}

}  // namespace plumule::analysis
