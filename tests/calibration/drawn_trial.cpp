// See the header for the truths supposed.
#include "drawn_trial.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::calibration {

std::vector<stats::TrayCount> draw_stand(stats::Random& random, int k, int n, double p,
                                         double rho) {
  std::vector<stats::TrayCount> trays;
  for (int i = 0; i < k; ++i) trays.push_back({random.beta_binomial(n, p, rho), n});
  return trays;
}

const char* name_of(Looks looks) {
  return looks == Looks::daily         ? "daily"
         : looks == Looks::every_third ? "every third"
         : looks == Looks::irregular   ? "irregular"
                                       : "irregular, differing";
}

std::vector<int> draw_looks(stats::Random& random, Looks looks) {
  std::vector<int> days;
  const int first = static_cast<int>(random.below(3));
  for (int day = 1; day <= last_day; ++day) {
    const bool looked = looks == Looks::daily         ? true
                        : looks == Looks::every_third ? day % 3 == first
                                                      : random.unit() < 0.5;
    if (looked || day == last_day) days.push_back(day);
  }
  return days;
}

std::vector<stats::FollowedSowing> draw_followed(stats::Random& random, int k, int n,
                                                 const Timing& timing, bool treated,
                                                 const std::vector<int>& looks) {
  std::vector<stats::FollowedSowing> made;
  for (int i = 0; i < k; ++i) {
    const auto germinable = random.beta_binomial(n, timing.p, timing.rho);
    const double shift = std::log(timing.days) + timing.tau * random.normal();
    std::vector<double> times;
    for (std::int64_t s = 0; s < germinable; ++s)
      times.push_back(std::exp(shift + log_spread * random.normal()));
    std::sort(times.begin(), times.end());
    stats::FollowedSowing sowing;
    sowing.sown = n;
    sowing.treated = treated;
    for (const int day : looks)
      sowing.counts.push_back(
          {day, std::upper_bound(times.begin(), times.end(), day) - times.begin()});
    made.push_back(std::move(sowing));
  }
  return made;
}

stats::TimeCourse course_of(const stats::FollowedSowing& sowing) {
  stats::TimeCourse made;
  made.sown = static_cast<double>(sowing.sown);
  for (const auto& count : sowing.counts)
    made.looks.push_back({static_cast<double>(count.day), static_cast<double>(count.up)});
  return made;
}

}  // namespace plumule::calibration
