// Lots of seed drawn from a supposed truth: how good at harvest, how fast they age, and the towels
// laid of them.
#pragma once

#include <cstdint>

#include "stats/ageing/aged_lot.hpp"
#include "stats/numeric/random.hpp"

namespace plumule::calibration {

// How lots age in truth: at so many times the speed that the lists say, log sigma with that spread
// from lot to lot; and the share of towels that are spoilt (too wet, too cold), which then show
// anything from none to seven tenths of what is alive.
struct AgeingWorld {
  const char* name;
  double speed = 1;
  double log_sd = 0.35;
  double spoilt = 0;
};

struct DrawnLot {
  double listed_years = 3;  // the middle of the lists
  double harvest = 1.4;     // probit at harvest, on day 0
  double sigma = 1;         // days to lose a probit

  double alive(double day) const;
  plumule::stats::AgeingRate rate() const;
};

// Lists say 1.5 to 5 years; probit at harvest N(1.4, 0.5^2).
DrawnLot draw_lot(stats::Random& random, const AgeingWorld& world);

// A towel of n seeds on that day; rho from Beta(1, 49).
stats::AgedTest draw_towel(stats::Random& random, const DrawnLot& lot, const AgeingWorld& world,
                           double day, std::int64_t n);

}  // namespace plumule::calibration
