// Crops whose "seed" is a cluster that can give several seedlings (beet, chard, ...): there, units
// up and seedlings up are two counts.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct Cluster {
  double seedlings_low = 1;              // per cluster that comes up, as the source puts it
  std::optional<double> seedlings_high;  // none where the source says "or more"
  std::string_view what;                 // "natural clusters", "rubbed or graded seed", ...
  Origin origin;
};

// What each source says of the seedlings to a cluster; empty for a crop with single seeds. No
// published mean is known: the grower's own counts are the better figure.
std::vector<Cluster> clusters_of(const Crop& crop);

}  // namespace plumule::crops
