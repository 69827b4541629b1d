// Several tests at once: p values adjusted so that the chance of any false claim keeps its level.
#pragma once

#include <span>
#include <vector>

namespace plumule::stats {

// Holm 1979 (Scandinavian Journal of Statistics 6:65-70): adjusted p in the order given, at most 1,
// never out of order. Throws std::domain_error for a p outside [0, 1].
std::vector<double> holm(std::span<const double> p);

}  // namespace plumule::stats
