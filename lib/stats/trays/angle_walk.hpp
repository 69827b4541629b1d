// Two treatments' joint posterior walked along the angle of one of them: at every point of that
// treatment's table, how much of the other lies below what a contrast makes of it.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "stats/trays/angle_table.hpp"
#include "stats/trays/contrast_curve.hpp"

namespace plumule::stats {

// All that does not depend on the contrast is made ready once; a contrast then costs one short
// series a point. The rule (Clenshaw & Curtis 1960) has the table's own points.
class AngleWalk {
 public:
  // joint: density of both, point after point of the other one's table, each with the walked one's
  // points in their order; in the t of both maps, integral 1.
  AngleWalk(const AngleMap& walked, std::size_t walked_points, const AngleMap& other,
            std::size_t other_points, std::span<const double> joint);

  // P(the other's p < partner), where the walked one's p and the partner have the contrast of that
  // value: partner - p, partner / p, or the odds of the partner over those of p. As in
  // contrast_curve.hpp; a value turned round (-d, 1 / c) exchanges the two.
  double other_below(Contrast contrast, double value) const;

  // About how far the rule may be off for this contrast. It is exact to 1e-8 or so but for two
  // things: where the partner reaches 0 or 1 inside the walk, its angle turns by a square root, and
  // where the other is much the narrower, its share is a step between two points.
  double doubt(Contrast contrast, double value) const;

 private:
  double below(std::size_t point, double t) const;  // one point's share, its weight in

  AngleMap walked_, other_;
  std::size_t points_, terms_;
  std::vector<double> p_, q_;  // of the walked one at its points, q = 1 - p
  std::vector<double> below_;  // term after term: coefficient at every point, rule's weight in
};

}  // namespace plumule::stats
