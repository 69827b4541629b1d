// How many years seed of a crop keeps, by published lists. Lists differ by up to five times for one
// crop; a germination test overrules them all.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct SeedLife {
  double years_low = 0;
  double years_high = 0;
  std::string_view storage;  // "favourable conditions", "minimum life, no special care taken", ...
  Origin origin;
};

std::vector<SeedLife> seed_lives(const Crop& crop);

// Over the lists that were read: the spread, and the median of their low ends. The handbook figure
// (favourable storage) stands apart, being from memory. Never a mean of the two kinds of list.
struct SeedLifeSummary {
  int lists = 0;
  double lowest = 0;  // years; 0 with lists == 0
  double highest = 0;
  double median_low = 0;
  double middle = 0;  // median over all lists, the handbook too, of the middle of each
  std::optional<double> handbook;
};

// Nothing where no list has the crop.
std::optional<SeedLifeSummary> seed_life_summary(const Crop& crop);

}  // namespace plumule::crops
