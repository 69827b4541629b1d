// Kinds whose coat may keep water out (hard seed): what did not come up may be alive, and a cut
// coat or a soak may help.
#pragma once

#include <optional>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct HardSeed {
  bool possible = false;  // hard seeds may be present in a lot of this kind
  Origin origin;
};

// Nothing where no source says either way.
std::optional<HardSeed> hard_seed(const Crop& crop);

}  // namespace plumule::crops
