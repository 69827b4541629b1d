// What is believed of how fast a lot ages before its own tests have shown it.
#pragma once

namespace plumule::stats {

inline constexpr double days_in_year = 365.25;

// sigma, the days in which the lot loses one probit of its viability: log sigma is normal about
// log(days) with this standard deviation.
struct AgeingRate {
  double days = 0;      // the median, above 0
  double log_sd = 0.7;  // above 0
};

// By lists of seed life, of which `years` is the middle: 0.88 probits lead from 92 % alive to
// 70 %. Lists differ by up to five times for one crop; 0.7 covers lots that age at half or at
// twice the listed speed. Throws std::domain_error unless years is above 0.
AgeingRate ageing_by_lists(double years);

// By the viability equation's days to lose a probit. The spread is that of the lists (a judgement):
// in long trials the equation has proved up to three times too long. Throws std::domain_error
// unless days is above 0.
AgeingRate ageing_by_equation(double days);

}  // namespace plumule::stats
