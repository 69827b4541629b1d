// The chance that a contrast of two treatments is above a value, by an adaptive integral along the
// curve where it has that value: slow, and right where fixed points are not.
#pragma once

#include <span>

#include "stats/trays/angle_table.hpp"
#include "stats/trays/contrast_curve.hpp"

namespace plumule::stats {

// joint: density of both in the t of their maps, integral 1, at the second's Chebyshev points one
// after another, `first_points` of the first's each. Within about 1e-8.
double above_by_curve(Contrast contrast, double value, const AngleMap& first,
                      const AngleMap& second, std::size_t first_points,
                      std::span<const double> joint);

}  // namespace plumule::stats
