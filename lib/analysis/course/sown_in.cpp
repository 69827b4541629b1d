#include "analysis/course/sown_in.hpp"

#include <algorithm>
#include <cmath>

#include "crops/names.hpp"

namespace plumule::analysis {

crops::SownIn sown_in(records::Setting setting) {
  const bool towel = setting == records::Setting::towel || setting == records::Setting::dish;
  return towel ? crops::SownIn::towel : crops::SownIn::soil;
}

SoilTemperature soil_temperature(const records::History& history) {
  double means = 0;
  double spots = 0;
  int ranges = 0;
  int readings = 0;
  for (const auto& reading : history.temperatures) {
    if (reading.min_c && reading.max_c) {
      means += (*reading.min_c + *reading.max_c) / 2;
      ++ranges;
    } else if (reading.spot_c) {
      spots += *reading.spot_c;
      ++readings;
    }
  }
  SoilTemperature result;
  if (ranges > 0) result.mean_c = means / ranges;
  if (readings > 0) result.spot_c = spots / readings;
  return result;
}

std::optional<crops::GiveUp> give_up_of(const records::History& history) {
  const auto match = crops::find_crop(history.sowing.crop);
  if (!match.crop) return std::nullopt;
  const auto soil = soil_temperature(history);
  const auto where = sown_in(history.sowing.setting);
  auto give_up = crops::give_up_days(*match.crop, soil.mean_c, where);
  if (soil.mean_c || !soil.spot_c) return give_up;
  const auto colder = crops::give_up_days(*match.crop, soil.spot_c, where);
  return colder && give_up && colder->days > give_up->days ? colder : give_up;
}

int first_look_day(const records::History& history) {
  const auto match = crops::find_crop(history.sowing.crop);
  if (!match.crop || sown_in(history.sowing.setting) == crops::SownIn::towel) return 1;
  double fewest = HUGE_VAL;
  const auto take = [&](double temperature) {
    const auto expected = crops::expected_days(*match.crop, temperature);
    if (expected.days > 0) fewest = std::min(fewest, expected.days);
  };
  const auto soil = soil_temperature(history);
  if (soil.mean_c)
    take(*soil.mean_c);
  else
    for (const double usual : {15.0, 20.0, 25.0, soil.spot_c.value_or(20)}) take(usual);
  return std::isfinite(fewest) ? std::max(1, static_cast<int>(fewest / 2)) : 1;
}

}  // namespace plumule::analysis
