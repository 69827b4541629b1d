// The posterior of one sowing by brute force: everything unknown is drawn from its prior, each draw
// weighed by the likelihood of what was counted. Written apart from the library, from the model.
#pragma once

#include <functional>
#include <vector>

#include "stats/ageing/field_factor.hpp"
#include "stats/numeric/random.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::tests {

struct DrawnAnswer {
  double any_more = 0;    // ever
  double more_by = 0;     // expected more by the day asked
  double stand = 0;       // P(at least so many up by the day asked)
  double mean_alive = 0;  // posterior mean of g
  double effective = 0;   // how many equal draws the weighed ones are worth
};

struct DrawnQuestion {
  stats::TimeCourse course;
  stats::Ground ground = stats::Ground::towel;
  double rho = 0.02;
  double by_day = 0;
  double wanted = 0;
  // A clock drawn anew: R by day of sowing.
  std::function<std::function<double(double)>(stats::Random&)> clock;
};

// g: 0 with 5 %, else Beta(2, 1).
DrawnAnswer drawn_answer(const DrawnQuestion& question, int draws, std::uint64_t seed);

}  // namespace plumule::tests
