// Soil temperature ranges by soil_temperature.csv.
#include "crops/soil_temperature.hpp"

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

std::optional<double> celsius(std::optional<double> fahrenheit) {
  if (!fahrenheit) return std::nullopt;
  return (*fahrenheit - 32) / 1.8;
}

}  // namespace

std::vector<SoilRange> soil_ranges(const Crop& crop) {
  static const Table table("soil_temperature.csv");
  std::vector<SoilRange> ranges;
  for (const auto& row : table.rows_of(crop.slug))
    ranges.push_back({celsius(row.number("lowest_f")), celsius(row.number("best_from_f")),
                      celsius(row.number("best_to_f")), celsius(row.number("best_f")),
                      celsius(row.number("highest_f")), origin(row)});
  return ranges;
}

}  // namespace plumule::crops
