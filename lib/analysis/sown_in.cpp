#include "analysis/sown_in.hpp"

#include "crops/names.hpp"

namespace plumule::analysis {

crops::Sown_in sown_in(records::Setting setting) {
  const bool towel = setting == records::Setting::towel || setting == records::Setting::dish;
  return towel ? crops::Sown_in::towel : crops::Sown_in::soil;
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

std::optional<crops::Give_up> give_up_of(const records::History& history) {
  const auto match = crops::find_crop(history.sowing.crop);
  if (!match.crop) return std::nullopt;
  const auto soil = soil_temperature(history);
  const auto where = sown_in(history.sowing.setting);
  auto give_up = crops::give_up_days(*match.crop, soil.mean_c, where);
  if (soil.mean_c || !soil.spot_c) return give_up;
  const auto colder = crops::give_up_days(*match.crop, soil.spot_c, where);
  return colder && give_up && colder->days > give_up->days ? colder : give_up;
}

}  // namespace plumule::analysis
