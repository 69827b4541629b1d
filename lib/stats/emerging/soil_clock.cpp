#include "stats/emerging/soil_clock.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace plumule::stats {
namespace {

constexpr double coolest_heated = 15, warmest_heated = 25;
constexpr double spot_shift = 1, spot_sd = 1.5;

// Three points of the normal by Gauss and Hermite: exact to the fifth power.
constexpr double shift_points[] = {-1.7320508075688772, 0, 1.7320508075688772};
constexpr double shift_weights[] = {1.0 / 6, 2.0 / 3, 1.0 / 6};

// The speeds that days without a reading may have, of equal weight.
std::vector<double> unread_speeds(const EmergenceSpeed& speed, Warmth warmth, int points) {
  std::vector<double> speeds;
  for (int i = 0; i < points; ++i) {
    const double share = (i + 0.5) / points;
    if (warmth == Warmth::heated)
      speeds.push_back(speed.at(coolest_heated + share * (warmest_heated - coolest_heated)));
    else
      speeds.push_back(
          1 / (speed.fewest_days() * std::pow(speed.most_days() / speed.fewest_days(), share)));
  }
  return speeds;
}

// The temperature read for a moment; none where no reading speaks for it. Readings in order of day.
std::optional<double> temperature(std::span<const SoilReading> readings, double day, double shift) {
  const SoilReading* before = nullptr;
  const SoilReading* after = nullptr;
  for (const auto& reading : readings) {
    if (reading.day <= day)
      before = &reading;
    else if (after == nullptr)
      after = &reading;
  }
  if (before == nullptr || day - before->day > reading_days) return std::nullopt;
  const auto mean = [&](const SoilReading& r) { return r.temp_c + (r.spot ? shift : 0); };
  if (after == nullptr) return mean(*before);
  const double share = (day - before->day) / (after->day - before->day);
  return (1 - share) * mean(*before) + share * mean(*after);
}

}  // namespace

EmergenceSpeed::EmergenceSpeed(std::vector<DaysAt> table, std::optional<double> base_c)
    : table_(std::move(table)), base_c_(base_c) {
  if (table_.empty()) throw std::domain_error("emergence speed: no published days");
  for (std::size_t i = 0; i < table_.size(); ++i) {
    if (!(table_[i].days > 0) || !std::isfinite(table_[i].days))
      throw std::domain_error("emergence speed: days must be above 0");
    if (!std::isfinite(table_[i].temp_c) || (i > 0 && table_[i].temp_c <= table_[i - 1].temp_c))
      throw std::domain_error("emergence speed: temperatures must rise");
  }
  const auto best = std::min_element(table_.begin(), table_.end(),
                                     [](const auto& a, const auto& b) { return a.days < b.days; });
  fewest_ = most_ = best->days;
  for (auto row = table_.begin(); row != best; ++row) most_ = std::max(most_, row->days);
}

double EmergenceSpeed::at(double temp_c) const {
  const DaysAt& coldest = table_.front();
  if (temp_c < coldest.temp_c) {
    if (!base_c_ || *base_c_ >= coldest.temp_c || temp_c <= *base_c_) return 0;
    return (temp_c - *base_c_) / (coldest.temp_c - *base_c_) / coldest.days;
  }
  for (std::size_t i = 1; i < table_.size(); ++i) {
    if (temp_c > table_[i].temp_c) continue;
    const double share =
        (temp_c - table_[i - 1].temp_c) / (table_[i].temp_c - table_[i - 1].temp_c);
    return (1 - share) / table_[i - 1].days + share / table_[i].days;
  }
  return 1 / table_.back().days;
}

double ClockPath::at(double day) const {
  if (!(day > 0)) return 0;
  const double last = static_cast<double>(by_day_.size()) - 1;
  if (day >= last) return by_day_.back() + (day - last) * unread_;
  const auto whole = static_cast<std::size_t>(day);
  return by_day_[whole] +
         (day - static_cast<double>(whole)) * (by_day_[whole + 1] - by_day_[whole]);
}

std::vector<ClockPath> soil_clock(const EmergenceSpeed& speed,
                                  std::span<const SoilReading> readings, Warmth elsewhere) {
  std::vector<SoilReading> told(readings.begin(), readings.end());
  for (const auto& reading : told)
    if (!std::isfinite(reading.day) || !std::isfinite(reading.temp_c))
      throw std::domain_error("soil clock: a reading is not a number");
  std::stable_sort(told.begin(), told.end(),
                   [](const auto& a, const auto& b) { return a.day < b.day; });
  // Of several in one moment the last.
  std::vector<SoilReading> in_order;
  for (const auto& reading : told) {
    if (!in_order.empty() && in_order.back().day == reading.day) in_order.pop_back();
    in_order.push_back(reading);
  }

  std::vector<ClockPath> paths;
  const double end = in_order.empty() ? 0 : in_order.back().day + reading_days;
  if (!(end > 0)) {
    const auto speeds = unread_speeds(speed, elsewhere, 16);
    for (const double v : speeds)
      paths.emplace_back(1.0 / static_cast<double>(speeds.size()), v, std::vector<double>{0});
    return paths;
  }
  const bool spots =
      std::any_of(in_order.begin(), in_order.end(), [](const auto& r) { return r.spot; });
  const auto speeds = unread_speeds(speed, elsewhere, 3);
  for (int s = 0; s < 3; ++s) {
    if (!spots && s != 1) continue;
    const double weight = spots ? shift_weights[s] : 1;
    const double shift = spot_shift + spot_sd * shift_points[s];
    std::vector<std::optional<double>> read;
    for (double day = 0; day < end; ++day) {
      const auto warm = temperature(in_order, day + 0.5, shift);
      read.push_back(warm ? std::optional(speed.at(*warm)) : std::nullopt);
    }
    for (const double v : speeds) {
      std::vector<double> by_day{0};
      for (const auto& known : read) by_day.push_back(by_day.back() + known.value_or(v));
      paths.emplace_back(weight / static_cast<double>(speeds.size()), v, std::move(by_day));
    }
  }
  return paths;
}

}  // namespace plumule::stats
