// Tolerances by replicate_range.csv, replicate_range_small.csv and tolerances.csv.
#include "crops/tolerance.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

void require_percent(double mean_percent, const char* function) {
  if (!(mean_percent >= 0 && mean_percent <= 100))
    throw std::domain_error(std::string(function) + ": mean_percent must be 0 to 100");
}

}  // namespace

std::optional<int> replicate_range(double mean_percent, int replicates) {
  require_percent(mean_percent, "replicate_range");
  if (replicates != 2 && replicates != 4) return std::nullopt;
  static const Table table("replicate_range.csv");
  const double mean = std::round(mean_percent);
  for (const auto& row : table.rows()) {
    if (row.number("mean_high") != mean && row.number("mean_low") != mean) continue;
    const auto range = row.number(replicates == 4 ? "range_of_4" : "range_of_2");
    if (range) return static_cast<int>(*range);
  }
  return std::nullopt;
}

std::optional<Small_range> small_replicate_range(double mean_percent, int replicates, int seeds) {
  require_percent(mean_percent, "small_replicate_range");
  static const Table table("replicate_range_small.csv");
  // The table holds 50 to 95: the range of p and of 1 - p are the same.
  const double mirrored = mean_percent < 50 ? 100 - mean_percent : mean_percent;
  std::optional<Small_range> nearest;
  double distance = 0;
  for (const auto& row : table.rows()) {
    if (row.number("replicates") != replicates || row.number("seeds") != seeds) continue;
    const double off = std::fabs(row.number("mean_percent").value_or(0) - mirrored);
    if (nearest && off >= distance) continue;
    distance = off;
    nearest = {static_cast<int>(row.number("range_seeds").value_or(0)),
               row.number("chance").value_or(0)};
  }
  return nearest;
}

int tolerance_between_tests(double mean_percent) {
  require_percent(mean_percent, "tolerance_between_tests");
  static const Table table("tolerances.csv");
  for (const auto& row : table.rows())  // from the highest mean down to 0
    if (mean_percent >= row.number("mean_from").value_or(0))
      return static_cast<int>(row.number("percent_400").value_or(0));
  throw std::logic_error("tolerances.csv does not reach down to 0");
}

}  // namespace plumule::crops
