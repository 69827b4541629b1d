// Years of seed life by seed_life.csv, and their summary, which is reckoned from the lists and so
// cannot disagree with them.
#include "crops/seed_life.hpp"

#include <algorithm>

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

}  // namespace

std::vector<SeedLife> seed_lives(const Crop& crop) {
  static const Table table("seed_life.csv");
  std::vector<SeedLife> lives;
  for (const auto& row : table.rows_of(crop.slug))
    lives.push_back({row.number("years_low").value_or(0), row.number("years_high").value_or(0),
                     row["storage"], origin(row)});
  return lives;
}

std::optional<SeedLifeSummary> seed_life_summary(const Crop& crop) {
  const std::vector<SeedLife> lives = seed_lives(crop);
  if (lives.empty()) return std::nullopt;
  SeedLifeSummary summary;
  std::vector<double> lows, middles;
  for (const SeedLife& life : lives) {
    middles.push_back((life.years_low + life.years_high) / 2);
    if (life.origin.trust == Trust::memory) {
      summary.handbook = life.years_low;
      continue;
    }
    summary.lowest = lows.empty() ? life.years_low : std::min(summary.lowest, life.years_low);
    summary.highest = std::max(summary.highest, life.years_high);
    lows.push_back(life.years_low);
  }
  summary.lists = static_cast<int>(lows.size());
  if (!lows.empty()) summary.median_low = median(lows);
  summary.middle = median(middles);
  return summary;
}

}  // namespace plumule::crops
