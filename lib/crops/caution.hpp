// Work with seed that can hurt somebody, and what is usually said of it. Every caution defers to
// the label, local codes and licensed practice.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

enum class Hazard {
  acid,
  bleach,
  peroxide,
  hot_water,
  treated_seed,
  poisonous_seed,
  sprouts_for_eating,
  tested_seedlings,  // sprouts of a germination test are not food
};

struct Caution {
  Hazard hazard = Hazard::treated_seed;
  std::string_view text;  // whole sentences, for a grower
  Origin origin;
};

// The usual caution for a kind of work.
Caution caution_about(Hazard hazard);

// Those that come with the crop itself: poisonous seed or plant, beans not to be eaten raw, kinds
// that are sprouted for eating. Empty for most. (What is done to its seed: crop.hpp.)
std::vector<Caution> cautions_of(const Crop& crop);

// Those that a treatment's or a coating's own words call for ("10 % bleach, 10 min", "thiram",
// "hot water 50 C"): each once. Words it does not know call for none.
std::vector<Caution> cautions_in(std::string_view treatment_words);

}  // namespace plumule::crops
