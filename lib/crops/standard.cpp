// Minimum germination by germination_minima.csv.
#include "crops/standard.hpp"

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

const Table& minima() {
  static const Table table("germination_minima.csv");
  return table;
}

Standard standard(const Table::Row& row) {
  return {row.number("percent").value_or(0) / 100, row["scope"], row["scope"] == "federal",
          origin(row)};
}

}  // namespace

std::optional<Standard> standard_of(const Crop& crop) {
  const auto own = minima().rows_of(crop.slug);
  for (const auto& row : own)
    if (row["scope"] == "federal") return standard(row);
  if (!own.empty()) return standard(own[0]);
  if (crop.group != "vegetable" && crop.group != "herb") return std::nullopt;
  const auto any = minima().rows_of("any");
  if (any.empty()) return std::nullopt;
  return standard(any[0]);
}

}  // namespace plumule::crops
