// The emergence model's log likelihood written out from its definition: no derivative, no code
// shared with the fits but F itself.
#pragma once

#include <cmath>
#include <vector>

#include "stats/times/time_course.hpp"
#include "stats/times/time_distribution.hpp"

namespace plumule::tests {

// pi: the germinable fraction; every course with units sown known.
inline double direct_loglik(const std::vector<stats::TimeCourse>& sowings,
                            const stats::TimeDistribution& d, double pi) {
  double sum = 0;
  for (const stats::TimeCourse& course : sowings) {
    double time = 0;
    double total = 0;
    for (const stats::Look& look : course.looks) {
      if (look.total > total) {
        const double by_lower = share_up(d, look.time) - share_up(d, time);
        const double by_upper = share_to_come(d, time) - share_to_come(d, look.time);
        const double share = share_up(d, time) < 0.5 ? by_lower : by_upper;
        sum += (look.total - total) * std::log(pi * share);
      }
      time = look.time;
      total = look.total;
    }
    const double rest = *course.sown - total - course.never;
    if (rest > 0) sum += rest * std::log((1 - pi) + pi * share_to_come(d, time));
    if (course.never > 0) sum += course.never * std::log(1 - pi);
  }
  return sum;
}

}  // namespace plumule::tests
