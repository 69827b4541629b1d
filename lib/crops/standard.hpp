// The lowest germination at which seed of a crop may be sold: the line `viability` holds a lot to.
#pragma once

#include <optional>
#include <string_view>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct Standard {
  double fraction = 0;     // 0 to 1
  std::string_view scope;  // "federal" (7 CFR 201.31), "state" (a state's extra list), or
                           // "state default" (that state's rule for kinds with no figure)
  // Hard seed counts as germinated: so 7 CFR 201.31 is to be read. Of a state's list no such rule
  // is known.
  bool counts_hard = false;
  Origin origin;
};

// The federal minimum; else the state list's; else that state's default for vegetables and herbs.
// Nothing for field crops and flowers without a figure. It is a line for sale, not for sowing:
// a lot below it may still be worth a thicker sowing.
std::optional<Standard> standard_of(const Crop& crop);

}  // namespace plumule::crops
