// Percentages of lots carried forward from their tests: how often the range covers the truth on the
// day asked about, whether lots age as the lists say or not.
#include <string>
#include <vector>

#include "drawn_lot.hpp"
#include "parts.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

const RhoPrior towels = rho_from_beta(rho_b_towels_and_dishes);

constexpr AgeingWorld worlds[] = {{"as listed", 1, 0.35},
                                  {"twice as fast", 2, 0.35},
                                  {"half as fast", 0.5, 0.35},
                                  {"as listed, lots unlike", 1, 0.7}};

struct Carried {
  Rate covered;
  Rate width;
};

// `tests` towels of n seeds, the first within the first year and one about every year; asked up to
// three years after the newest.
Carried carried(const Effort& effort, const AgeingWorld& world, int tests, std::int64_t n,
                std::uint64_t seed) {
  return drawn<Carried>(
      effort, 150, seed,
      [&](Random& random, Carried& made) {
        const auto lot = draw_lot(random, world);
        std::vector<AgedTest> towel_tests;
        double day = days_in_year * random.unit();
        for (int t = 0; t < tests; ++t) {
          if (t > 0) day += days_in_year * (0.5 + random.unit());
          towel_tests.push_back(draw_towel(random, lot, world, day, n));
        }
        const double asked = day + 3 * days_in_year * random.unit();
        const auto range = AgedLot::tested(towel_tests, lot.rate(), towels).interval(0.95, asked);
        const double truth = lot.alive(asked);
        made.covered.see(range.lower <= truth && truth <= range.upper ? 1 : 0);
        made.width.see(range.upper - range.lower);
      },
      {&Carried::covered});
}

}  // namespace

void aged_percentages(Report& report, const Effort& effort) {
  report.heading("Percentages carried forward");
  report.say("Lots whose lists say 1.5 to 5 years, probit at harvest N(1.4, 0.5^2), ageing at so");
  report.say("many times the listed speed (log sigma spread 0.35 from lot to lot, unlike ones");
  report.say("0.7, one and two towels); towels about a year apart, asked up to three years after");
  report.say("the newest. 95 % range; rho of each towel from Beta(1, 49). Bar: 90 %, whatever the");
  report.say("speed.");
  report.head({"lots age", "towels", "seeds in each", "covered", "mean width, points"});
  std::uint64_t seed = 16500;
  for (const auto& world : worlds)
    for (const int tests : effort.full ? std::vector<int>{1, 2, 3, 4} : std::vector<int>{1, 2})
      for (const int n : effort.full ? std::vector<int>{10, 20, 50} : std::vector<int>{20}) {
        if (world.log_sd > 0.5 && tests > 2) continue;
        const auto made = carried(effort, world, tests, n, ++seed);
        report.row({world.name, std::to_string(tests), std::to_string(n),
                    Report::percent(made.covered.share()), Report::percent(made.width.share())});
        report.bar("percentages carried forward, " + std::string(world.name) + ", " +
                       std::to_string(tests) + " x " + std::to_string(n),
                   made.covered.share(), 0.90 - effort.rate_room(0.90, 150), 1);
      }
}

}  // namespace plumule::calibration
