// Draws the tables of a crop together into what is asked first.
#include "crops/gist.hpp"

#include <algorithm>
#include <cmath>

#include "crops/hard_seed.hpp"
#include "crops/presowing.hpp"
#include "crops/soil_temperature.hpp"

namespace plumule::crops {
namespace {

void take_in(std::optional<Span>& span, const std::optional<double>& value) {
  if (!value) return;
  if (!span) span = Span{*value, *value};
  span->low = std::min(span->low, *value);
  span->high = std::max(span->high, *value);
}

SoilGist soil_gist(const Crop& crop) {
  SoilGist gist;
  for (const SoilRange& range : soil_ranges(crop)) {
    ++gist.tables;
    take_in(gist.lowest, range.lowest);
    for (const auto& best : {range.best_from, range.best_to, range.best}) take_in(gist.best, best);
    take_in(gist.highest, range.highest);
  }
  return gist;
}

std::optional<Span> seedlings_to_a_cluster(const Crop& crop) {
  std::optional<Span> span;
  for (const Cluster& cluster : clusters_of(crop)) {
    take_in(span, cluster.seedlings_low);
    take_in(span, cluster.seedlings_high ? *cluster.seedlings_high : HUGE_VAL);
  }
  return span;
}

void take_in(BeforeSowing& gist, const Presowing& advice) {
  if (advice.limit == "do not") {
    ++gist.refused;
    return;
  }
  ++gist.advised;
  gist.treatment = gist.advised == 1 ? advice.treatment : std::string_view();
  gist.limit = gist.advised == 1 || gist.limit == advice.limit ? advice.limit : std::string_view();
  if (!advice.low && !advice.high) return;
  if (gist.unit.empty()) gist.unit = advice.unit;
  if (gist.unit != advice.unit) return;
  take_in(gist.amount, advice.low);
  take_in(gist.amount, advice.high);
}

std::vector<BeforeSowing> before_sowing(const Crop& crop) {
  std::vector<BeforeSowing> list;
  for (const Presowing& advice : presowing_of(crop)) {
    if (advice.general) continue;
    const std::string_view topic = words(advice.topic);
    if (list.empty() || list.back().topic != topic) {
      list.emplace_back();
      list.back().topic = topic;
    }
    take_in(list.back(), advice);
  }
  return list;
}

}  // namespace

Gist gist_of(const Crop& crop) {
  Gist gist;
  gist.standard = standard_of(crop);
  if (auto methods = test_methods(crop); !methods.empty()) gist.test = methods.front();
  for (const Emergence& row : emergence_table(crop))
    if (row.days) gist.days.push_back(row);
  gist.wait = give_up_days(crop);
  gist.soil = soil_gist(crop);
  gist.life = seed_life_summary(crop);
  gist.seedlings = seedlings_to_a_cluster(crop);
  const auto hard = hard_seed(crop);
  gist.hard_seed = hard && hard->possible;
  gist.before = before_sowing(crop);
  return gist;
}

}  // namespace plumule::crops
