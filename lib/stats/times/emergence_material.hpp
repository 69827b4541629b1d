// What a set of sowings says before any time distribution is chosen, and whether it says enough to
// fit one.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/times/emergence_model.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::stats {

struct EmergenceMaterial {
  Pool pool;
  std::vector<const TimeCourse*> used;     // sowings that say anything, of those gathered from
  std::vector<std::vector<Span>> by_unit;  // spans of each unit; of those up unless all_known
  bool last_still = false;                 // something came up at some sowing's last look
  bool single = true;                      // no sowing was looked at twice
  bool some_never = false;                 // units known never to come up
};

// The courses must outlive what is gathered. Throws std::domain_error for a bad course.
EmergenceMaterial gather(std::span<const TimeCourse> sowings);

// The status that stands in the way of a fit; none where there is enough.
std::optional<ModelStatus> too_little(const EmergenceMaterial& material);

}  // namespace plumule::stats
