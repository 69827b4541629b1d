// Hard seed by hard_seed.csv.
#include "crops/hard_seed.hpp"

#include "crops/table.hpp"

namespace plumule::crops {

std::optional<HardSeed> hard_seed(const Crop& crop) {
  static const Table table("hard_seed.csv");
  const auto rows = table.rows_of(crop.slug);
  if (rows.empty()) return std::nullopt;
  return HardSeed{rows[0]["possible"] == "yes", origin(rows[0])};
}

}  // namespace plumule::crops
