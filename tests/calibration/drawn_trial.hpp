// Trials drawn from a supposed truth: stands with a correlation within sowings, times with a spread
// between them, looked at daily or with gaps.
#pragma once

#include <cstdint>
#include <vector>

#include "stats/numeric/random.hpp"
#include "stats/times/time_course.hpp"
#include "stats/trays/tray_count.hpp"
#include "stats/trials/followed_sowing.hpp"

namespace plumule::calibration {

// k sowings of n seeds.
std::vector<stats::TrayCount> draw_stand(stats::Random& random, int k, int n, double p, double rho);

// Times are lognormal: median `days` (times exp(tau z) a sowing), log spread 0.25, to day 21.
struct Timing {
  double p = 0.8, rho = 0, days = 8, tau = 0;
};
inline constexpr int last_day = 21;
inline constexpr double log_spread = 0.25;

// Days looked at: every one; every third, the first by lot; or each with probability one half, the
// same for all sowings or drawn for each treatment by itself. The last day always.
enum class Looks { daily, every_third, irregular, differing };
const char* name_of(Looks looks);
std::vector<int> draw_looks(stats::Random& random, Looks looks);

std::vector<stats::FollowedSowing> draw_followed(stats::Random& random, int k, int n,
                                                 const Timing& timing, bool treated,
                                                 const std::vector<int>& looks);

// The same as pure times; sowings' own looks.
stats::TimeCourse course_of(const stats::FollowedSowing& sowing);

}  // namespace plumule::calibration
