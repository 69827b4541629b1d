// One treatment's likelihood tabulated over the angle phi = arcsin sqrt p, where Beta(1/2, 1/2) is
// flat, for every node of rho: the common ground of the tray-aware posteriors.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "stats/trays/live_nodes.hpp"
#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {

// phi = centre + scale sinh(u): fine near the centre, where sowings that agree put a narrow peak,
// coarse in the tails, which a large rho makes long. u in [u_lower, u_upper] holds all of the
// posterior but a share near 1e-9.
struct AngleMap {
  double centre = 0, scale = 1, u_lower = 0, u_upper = 1;

  struct Point {
    double angle = 0, slope = 0;  // phi, and its derivative by t
  };
  Point angle_and_slope(double t) const;  // of t in [-1, 1]
  double angle(double t) const { return angle_and_slope(t).angle; }
  double place(double phi) const;  // t of an angle, held within [-1, 1]
};

struct AngleTable {
  AngleMap map;
  std::size_t points = 0;  // Chebyshev points in t
  std::vector<double>
      values;  // node after node: L(p) over L at the reference times the slope, at those points
  std::vector<double> p;         // at those points
  std::vector<double> marginal;  // the values summed over nodes by weight
  std::vector<double> series;    // the marginal's Chebyshev series
};

// Of treatment `arm` among those the live nodes were found for. The points are doubled until the
// series' tail is negligible.
AngleTable make_angle_table(const TrayLikelihood& likelihood, const LiveNodes& live,
                            std::size_t arm);

}  // namespace plumule::stats
