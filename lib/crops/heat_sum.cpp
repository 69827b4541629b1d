// Thermal time by heat_sums.csv.
#include "crops/heat_sum.hpp"

#include <cmath>
#include <stdexcept>

#include "crops/table.hpp"

namespace plumule::crops {

std::vector<HeatSum> heat_sums(const Crop& crop) {
  static const Table table("heat_sums.csv");
  std::vector<HeatSum> sums;
  for (const auto& row : table.rows_of(crop.slug))
    sums.push_back({row.number("base_c"), row["best_c"], row["ceiling_c"],
                    row.number("degree_days"), row["event"], origin(row)});
  return sums;
}

std::optional<double> days_by_heat(const HeatSum& heat, double soil_temp_c) {
  if (std::isnan(soil_temp_c)) throw std::domain_error("days_by_heat: soil_temp_c is not a number");
  if (!heat.base_c || !heat.degree_days) return std::nullopt;
  if (soil_temp_c < *heat.base_c + 3 || soil_temp_c > 30) return std::nullopt;
  return *heat.degree_days / (soil_temp_c - *heat.base_c);
}

}  // namespace plumule::crops
