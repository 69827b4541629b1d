// Seedlings to a cluster by clusters.csv.
#include "crops/clusters.hpp"

#include "crops/table.hpp"

namespace plumule::crops {

std::vector<Cluster> clusters_of(const Crop& crop) {
  static const Table table("clusters.csv");
  std::vector<Cluster> clusters;
  for (const auto& row : table.rows_of(crop.slug))
    clusters.push_back({row.number("seedlings_low").value_or(1), row.number("seedlings_high"),
                        row["what"], origin(row)});
  return clusters;
}

}  // namespace plumule::crops
