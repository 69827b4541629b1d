// The soil temperatures at which a crop comes up, by every published table: they disagree, and are
// shown side by side.
#pragma once

#include <optional>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

// In degrees Celsius, from figures printed in whole degrees Fahrenheit. What a table leaves out is
// none.
struct SoilRange {
  std::optional<double> lowest;
  std::optional<double> best_from;
  std::optional<double> best_to;
  std::optional<double> best;
  std::optional<double> highest;
  Origin origin;
};

// Best founded first; empty where no table has the crop.
std::vector<SoilRange> soil_ranges(const Crop& crop);

}  // namespace plumule::crops
