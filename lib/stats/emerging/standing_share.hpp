// From the fraction of a lot that is alive to the chance that a seed of one of its sowings ever
// comes up: what the ground gives of it, and the spread between trays.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "stats/ageing/field_factor.hpp"

namespace plumule::stats {

// A fraction of the lot alive, and its weight (of all together 1).
struct Alive {
  double fraction = 0, weight = 0;
};

// Of a lot of which nothing is known: none alive with 5 %, else Beta(2, 1).
std::vector<Alive> usual_alive();

// pi, a seed's chance in this sowing, given that g of the lot are alive: Beta of mean g f and
// intraclass correlation rho, mixed over f. Kept as a table of cells: made once for a kind of
// ground, used for all its sowings.
class StandingShare {
 public:
  static constexpr std::size_t alive_points = 49;  // g by even steps in the arcsine scale, 0 to 1
  static constexpr std::size_t cells = 97;         // pi = 0, then 96 even steps in that scale

  // `published`: what the published table gives at the soil's temperature over its best, in (0, 1].
  // 0.005 <= rho <= 0.5, else std::domain_error.
  StandingShare(Ground ground, double rho, double published = 1);

  static double alive_at(std::size_t point);
  static double chance_at(std::size_t cell);  // pi in the middle of the cell
  double share(std::size_t point, std::size_t cell) const { return shares_[point][cell]; }

  // The cells' weights under a belief in g.
  std::array<double, cells> shares(std::span<const Alive> alive) const;

 private:
  std::array<std::array<double, cells>, alive_points> shares_{};
};

// Where a fraction lies among the points: between `point` and the next, by `share`.
struct AlivePlace {
  std::size_t point = 0;
  double share = 0;
};
AlivePlace alive_place(double fraction);

}  // namespace plumule::stats
