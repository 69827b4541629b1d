// What is done to seed before it is sown: soaking, cutting the coat, chilling, priming, light, heat
// and hot water; with the limits past which it harms.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

enum class Presowing_topic {
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

std::string_view words(Presowing_topic topic);

struct Presowing {
  Presowing_topic topic = Presowing_topic::soaking;
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

struct Soak_limit {
  double hours = 0;         // longest soak that is still advised
  std::string_view reason;  // what a longer one does
  bool general = false;     // the limit for any seed: none is known for this crop
  Origin origin;
};

// The shortest limit known for the crop, else the one for any seed (24 h).
Soak_limit soak_limit(const Crop& crop);

}  // namespace plumule::crops
