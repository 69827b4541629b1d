#include "drawn_lot.hpp"

#include <cmath>

#include "stats/numeric/distributions.hpp"

namespace plumule::calibration {

using namespace plumule::stats;

double DrawnLot::alive(double day) const { return normal_lower(harvest - day / sigma); }

AgeingRate DrawnLot::rate() const { return ageing_by_lists(listed_years); }

DrawnLot draw_lot(Random& random, const AgeingWorld& world) {
  DrawnLot lot;
  lot.listed_years = 1.5 + 3.5 * random.unit();
  lot.harvest = 1.4 + 0.5 * random.normal();
  lot.sigma = lot.rate().days / world.speed * std::exp(world.log_sd * random.normal());
  return lot;
}

AgedTest draw_towel(Random& random, const DrawnLot& lot, const AgeingWorld& world, double day,
                    std::int64_t n) {
  const double rho = random.beta(1, rho_b_towels_and_dishes);
  double p = lot.alive(day);
  if (random.unit() < world.spoilt) p *= 0.7 * random.unit();
  return {day, Ground::towel, {random.beta_binomial(n, p, rho), n}};
}

}  // namespace plumule::calibration
