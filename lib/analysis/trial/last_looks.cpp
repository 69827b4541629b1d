#include "analysis/trial/last_looks.hpp"

#include <algorithm>
#include <chrono>

#include "stats/times/quiet.hpp"

namespace plumule::analysis {

std::optional<records::Date> looked_no_further(const TrialLayout& layout, std::size_t treatment,
                                               std::size_t against, records::Date last_day) {
  int sowings[2] = {0, 0};
  int early[2] = {0, 0};
  std::optional<records::Date> latest;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    const int side = unit.treatment == treatment ? 0 : 1;
    for (const std::size_t i : unit.sowings) {
      const auto& sowing = layout.sowings[i];
      if (!sowing.course.looked || sowing.stopped) continue;
      ++sowings[side];
      const auto& last = sowing.last_counted;
      if (!last) continue;
      latest = std::max(*last, latest.value_or(*last));
      const bool done = sowing.at_rest || stats::nearly_over(sowing.course.course);
      if (!done && *last < last_day - std::chrono::days(1)) ++early[side];
    }
  }
  const bool most = 2 * early[0] > sowings[0] || 2 * early[1] > sowings[1];
  return most ? latest : std::nullopt;
}

}  // namespace plumule::analysis
