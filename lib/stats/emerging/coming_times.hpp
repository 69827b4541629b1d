// When the seed of one sowing comes up that will: what its counts say of the crop's timing, on the
// soil's clock. Lognormal and log-logistic times, each with and without stragglers, weighed evenly.
#pragma once

#include <span>
#include <vector>

#include "stats/emerging/soil_clock.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::stats {

// The share F of those that will ever come that is up by a day, in every way of timing.
//   family: F0 = G((log R - log m) / spread), G normal or logistic (of the same variance), R the
//   clock's path; with stragglers F = 0.95 F0(R) + 0.05 F0(R / 2), that is at twice the time.
//   log m = 0.35 Student t4; log spread = log 0.25 + N(0, 0.5^2).
class ComingTimes {
 public:
  // Weighs every way by when those came that did: the product of (F increment / F)^new, F by the
  // last look with something new. How many came of how many is left to who knows how many are
  // alive; ways that no share alive could reconcile with it are left out. Where some
  // came up in soil that is read as too cold for any, the readings are passed over.
  // Throws std::domain_error for a course that is none.
  // `beside`: seed of the crop known to be good, laid beside it on the same day: its timing is
  // theirs. Of it Beta(18, 2) is alive; each course needs its number sown.
  ComingTimes(const TimeCourse& course, std::vector<ClockPath> paths,
              std::span<const TimeCourse> beside = {});

  std::size_t size() const { return ways_.size(); }
  double weight(std::size_t way) const { return ways_[way].weight; }      // all together 1
  double log_came(std::size_t way) const { return ways_[way].log_came; }  // log of that F; 0: none

  // F of each way by that day; `up` has room for size().
  void up_by(double day, std::span<double> up) const;

 private:
  struct Way {
    double weight = 0;
    int path = 0;
    double log_m = 0, spread = 0;
    bool logistic = false, stragglers = false;
    double log_came = 0;
  };
  std::vector<ClockPath> paths_;
  std::vector<Way> ways_;
};

}  // namespace plumule::stats
