// The trial is to run to day 43, but one looks whenever one is there. May one say before its end
// that seed at the surface and seed 3 cm down come up differently?
//
// An ordinary p-value, read again and again until it is small, deceives. This test deals the labels
// to the pots anew and spends its 5 % bit by bit, so that it may be read on any day.
//
// Data: Keshtkar et al. 2017 (Weed Science 65:732-742), blackgrass biotype R at 10 C, the four pots
// of experiment 1 at each depth, 36 seeds a pot; totals up at nine of their looks.
#include <cstdio>
#include <vector>

#include "stats/trials/sequential_randomisation.hpp"

using namespace plumule::stats;

int main() {
  const std::vector<int> days{17, 18, 20, 22, 24, 26, 29, 33, 39};
  const std::vector<std::vector<int>> surface{{0, 0, 1, 4, 5, 9, 12, 18, 23},
                                              {0, 0, 0, 1, 4, 8, 10, 23, 26},
                                              {0, 0, 1, 1, 4, 8, 14, 22, 27},
                                              {0, 0, 0, 0, 3, 7, 22, 30, 33}};
  const std::vector<std::vector<int>> deep{{0, 1, 5, 7, 10, 12, 12, 12, 14},
                                           {1, 5, 12, 17, 17, 18, 20, 20, 20},
                                           {1, 4, 6, 9, 12, 18, 21, 21, 21},
                                           {0, 1, 4, 11, 12, 14, 15, 19, 20}};

  std::vector<FollowedSowing> pots;
  for (const auto* depth : {&deep, &surface})
    for (const std::vector<int>& totals : *depth) {
      FollowedSowing pot;
      pot.sown = 36;
      pot.treated = depth == &deep;
      for (std::size_t i = 0; i < days.size(); ++i) pot.counts.push_back({days[i], totals[i]});
      pots.push_back(pot);
    }

  const int planned_last_day = 43;
  const auto result = sequential_randomisation(pots, planned_last_day, 39, 20250301);
  std::printf("%d ways to deal the labels; least possible p %.3f\n",
              static_cast<int>(result.arrangements), result.smallest_p);
  std::printf("day  distance of scores  spent\n");
  for (const SequentialLook& look : result.looks)
    std::printf("%3d  %18.2f  %.3f%s\n", look.day, look.distance, look.share_spent,
                look.claimed ? "  differently" : "");
  if (result.claimed)
    std::printf("from day %d it may be said: the deep ones are %s\n", *result.claimed_on,
                result.first_ahead ? "ahead" : "behind");
}

// It prints:
// 70 ways to deal the labels; least possible p 0.029
// day  distance of scores  spent
//  17                0.01  0.000
//  18                0.09  0.000
//  20                0.34  0.000
//  22                0.78  0.000
//  24                1.28  0.000
//  26                1.74  0.029  differently
//  29                2.22  0.029  differently
//  33                2.28  0.029  differently
//  39                1.32  0.029  differently
// from day 26 it may be said: the deep ones are ahead
