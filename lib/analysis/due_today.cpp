#include "analysis/due_today.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/sown_in.hpp"
#include "crops/names.hpp"

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
};

Seen seen(const records::History& history, Date today) {
  Seen result;
  const auto& sowing = history.sowing;
  result.sowing.crop = sowing.crop;
  result.sowing.place = sowing.place;
  result.sowing.day = days_between(sowing.sown.date, today);
  if (sowing.units_known != records::UnitsKnown::unknown) result.sowing.units = sowing.units;
  for (const auto& count : history.counts) {
    if (count.at.date > today) break;
    result.sowing.last_on = count.at.date;
    const bool seedlings = count.entered.kind == records::CountKind::seedlings;
    if (count.total > result.sowing.up ||
        (seedlings && count.entered.value > 0 && !result.last_new))
      result.last_new = count.at.date;
    result.sowing.up = count.total;
  }
  return result;
}

std::optional<Done> done(const records::History& history, const Seen& seen) {
  const auto& sowing = seen.sowing;
  if (!seen.last_new || !sowing.last_on) return std::nullopt;
  Done result{sowing, sowing.units && sowing.up == *sowing.units, *seen.last_new, 0, 0};
  const int to_last = days_between(history.sowing.sown.date, *seen.last_new);
  result.quiet_days = days_between(*seen.last_new, *sowing.last_on);
  result.needed = std::max(5, (to_last + 1) / 2);
  if (!result.all_up && result.quiet_days < result.needed) return std::nullopt;
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

std::optional<Late> past_give_up(const records::History& history, const Seen& seen) {
  const auto give_up = give_up_of(history);
  if (!give_up) return std::nullopt;
  const int day = static_cast<int>(std::lround(give_up->days));
  if (seen.sowing.day <= day) return std::nullopt;
  return Late{seen.sowing, day, give_up->how};
}

// The days on which it was due since its last look, up to and with today.
std::vector<Date> days_due(const records::History& history, const records::Trial* trial,
                           const Seen& seen, Date today) {
  const Date from =
      std::max(seen.sowing.last_on.value_or(history.sowing.sown.date), history.sowing.sown.date);
  std::vector<Date> result;
  if (trial && !trial->inspections.empty()) {
    for (const Date day : trial->inspections)
      if (day > from && day <= today) result.push_back(day);
    return result;
  }
  for (Date day = from + std::chrono::days(1); day <= today; day += std::chrono::days(1))
    result.push_back(day);
  return result;
}

std::optional<Date> next_planned(const records::Trial* trial, Date today) {
  if (!trial) return std::nullopt;
  for (const Date day : trial->inspections)
    if (day > today) return day;
  return std::nullopt;
}

}  // namespace

DueToday due_today(std::span<const records::History> open, std::span<const records::Trial> trials,
                   Date today, const std::function<bool(const std::string&)>& label_shared) {
  DueToday result;
  result.today = today;
  for (const auto& history : open) {
    if (history.sowing.sown.date > today) continue;
    const auto* trial = trial_of(trials, history.sowing.trial);
    auto now = seen(history, today);
    const auto& label = history.sowing.label;
    now.sowing.name = label_shared && label_shared(label)
                          ? label + "@" + records::to_text(history.sowing.sown.date)
                          : label;
    now.sowing.hidden = trial && trial->blind;
    if (auto late = should_be_up(history, now)) result.should_be_up.push_back(std::move(*late));
    if (auto late = past_give_up(history, now)) result.past_give_up.push_back(std::move(*late));
    if (auto finished = done(history, now)) {
      result.done.push_back(std::move(*finished));
      continue;
    }
    if (now.sowing.last_on == today) {
      result.counted.push_back(now.sowing);
      continue;
    }
    auto days = days_due(history, trial, now, today);
    if (days.empty()) {
      result.not_due.push_back({now.sowing.name, next_planned(trial, today)});
      continue;
    }
    const bool planned = trial && !trial->inspections.empty();
    if (days.back() == today) days.pop_back();
    result.due.push_back({now.sowing, planned, std::move(days)});
  }
  return result;
}

}  // namespace plumule::analysis
