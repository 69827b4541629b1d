// How many of the seeds can come up at all, and by which day is half of them up? Two cases that go
// wrong by hand: dishes that differ from each other, and a lot of which everything came up.
//
// Data: Wolkis et al. 2020 (Conservation Physiology 8:coaa017), Eryngium sparganophyllum on 250 ppm
// GA3, three dishes of 16; and mung beans at 10 C, one dish of 20 (Ritz, Pipper & Streibig 2013,
// European Journal of Agronomy 45:1-6). R, with a general optimiser, gives 0.6254 and 11.80 for the
// dishes with errors of 0.50 and 0.60, and 5.364 for the beans, their fraction held at 1.
#include <cstdio>
#include <vector>

#include "stats/times/emergence_model.hpp"

using namespace plumule::stats;

int main() {
  const std::vector<TimeCourse> dishes{
      {16, {{9, 0}, {11, 3}, {14, 3}, {16, 6}, {18, 8}, {30, 8}}},
      {16, {{7, 0}, {9, 1}, {11, 4}, {14, 9}, {16, 10}, {18, 10}, {30, 10}}},
      {16, {{9, 0}, {11, 6}, {14, 11}, {16, 11}, {25, 11}, {28, 11}, {30, 12}}}};

  ModelOptions options;
  options.family = TimeFamily::log_logistic;
  const EmergenceModel dish = fit_emergence(dishes, options);
  std::printf("germinable %.3f, half of them up by day %.2f\n", dish.fraction.estimate,
              dish.t50.estimate);

  // Seeds of one dish keep each other company in time too. The error that takes each seed for
  // itself is too small; the one clustered by dish is the one to use, on 3 - 1 degrees of freedom.
  std::printf("error of t50: %.2f seeds alone, %.2f by dish; 95 %%: %.1f to %.1f\n", *dish.t50.se,
              *dish.t50.se_clustered, *dish.t50.lower, *dish.t50.upper);

  // All 20 beans came up. The best fraction is then 1, on the edge of what is possible, where an
  // error plus or minus means nothing; the likelihood still tells how small it might be.
  const std::vector<TimeCourse> beans{{20, {{2, 0}, {3, 4}, {5, 4}, {6, 13}, {7, 20}}}};
  const EmergenceModel bean = fit_emergence(beans, options);
  std::printf("beans: germinable %.0f%s, at least %.2f (95 %%, one-sided); t50 %.3f\n",
              bean.fraction.estimate, bean.fraction_at_one ? " (on the edge)" : "",
              *bean.fraction_least, bean.t50.estimate);
  std::printf("by day 7 the curve has %.0f %% of them up%s\n", 100 * bean.share_seen,
              bean.fraction_unsettled ? ": the fraction is not settled" : "");
}

// It prints:
// germinable 0.625, half of them up by day 11.80
// error of t50: 0.50 seeds alone, 0.60 by dish; 95 %: 9.5 to 14.7
// beans: germinable 1 (on the edge), at least 0.93 (95 %, one-sided); t50 5.364
// by day 7 the curve has 82 % of them up: the fraction is not settled
