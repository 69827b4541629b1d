// Nobody looked every day, and the dishes were not looked at on the same days. When did the seed
// come up, without making believe that it came up when somebody looked?
//
// Data: Wolkis et al. 2020 (Conservation Physiology 8:coaa017), Eryngium sparganophyllum after four
// weeks of cold; three dishes of 16. Dish 1 alone was looked at on day 16. R's estimate from the
// same counts, by another algorithm, puts 0.5208 of all sown into (4, 7], 0.1042 into (7, 9] and so
// on.
#include <cmath>
#include <cstdio>
#include <vector>

#include "stats/times/npmle.hpp"
#include "stats/times/time_course.hpp"

using namespace plumule::stats;

int main() {
  // Total ever up at each look (days that brought nothing are looks too).
  const std::vector<TimeCourse> dishes{
      {16, {{4, 0}, {7, 9}, {9, 11}, {11, 11}, {14, 12}, {16, 12}, {18, 13}, {30, 13}}},
      {16, {{4, 0}, {7, 8}, {9, 10}, {11, 12}, {14, 12}, {18, 12}, {30, 12}}},
      {16, {{4, 0}, {7, 8}, {9, 9}, {11, 9}, {14, 9}, {18, 9}, {30, 9}}}};

  // Each seed is known only to have come up after one look and by the next.
  const Npmle estimate = npmle(pool(dishes).spans);
  for (const MassPoint& point : estimate.points)
    if (std::isinf(point.right))
      std::printf("not up by day %2.0f       %5.1f %%\n", point.left, 100 * point.mass);
    else
      std::printf("after day %2.0f, by day %2.0f %5.1f %%\n", point.left, point.right,
                  100 * point.mass);

  // Where in its gap a seed came up nobody knows: so a half is up somewhere in a gap, and the mean
  // lies between all of them early and all of them late.
  const auto half = time_of_emerged(estimate, 0.5);
  std::printf("half of those that came up: after day %.0f, by day %.0f\n", half->left, half->right);
  const auto mean = mean_days(estimate);
  std::printf("mean days: %.1f to %.1f\n", mean->lower, mean->upper);
  const Between early = fraction_up_by(estimate, 5);
  std::printf("up by day 5: %.0f to %.0f %%\n", 100 * early.lower, 100 * early.upper);
}

// It prints:
// after day  4, by day  7  52.1 %
// after day  7, by day  9  10.4 %
// after day  9, by day 11   4.2 %
// after day 11, by day 14   2.1 %
// after day 16, by day 18   2.1 %
// not up by day 30        29.2 %
// half of those that came up: after day 4, by day 7
// mean days: 5.3 to 8.1
// up by day 5: 0 to 52 %
