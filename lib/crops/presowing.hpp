// What is done to seed before it is sown: soaking, cutting the coat, chilling, priming, light, heat
// and hot water; with the limits past which it harms.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

enum class PresowingTopic {
  soaking,
  scarification,
  chilling,  // cold and moist (stratification)
  priming,
  light,
  heat_limit,
  hot_water,
  bleach,
  peroxide,
};

std::string_view words(PresowingTopic topic);

struct Presowing {
  PresowingTopic topic = PresowingTopic::soaking;
  bool general = false;        // advice for any seed rather than for this crop
  std::string_view treatment;  // in words
  std::optional<double> low;   // how much, in `unit` (h, days, min, C); none where not stated
  std::optional<double> high;
  std::string_view unit;
  std::string_view limit;         // the most that is safe, in words; "do not" where it harms
  std::string_view limit_reason;  // what goes wrong beyond it
  Origin origin;
};

// All that is known for this crop, by topic; sources that disagree stand side by side. Rows for any
// seed come last in each topic.
std::vector<Presowing> presowing_of(const Crop& crop);

}  // namespace plumule::crops
