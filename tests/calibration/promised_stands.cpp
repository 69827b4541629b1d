// Seeds sown for a stand: how often the number promised is reached, in trays and in beds that do
// not fail whole.
#include <string>
#include <vector>

#include "drawn_lot.hpp"
#include "parts.hpp"
#include "stats/sowing/how_many.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Place {
  const char* name;
  Ground ground;
  double a, b;   // of the part of f that does not fail
  double rho_b;  // rho ~ Beta(1, rho_b)
};
constexpr Place places[] = {{"tray under cover", Ground::under_cover, 18, 2, 24},
                            {"row outdoors", Ground::outdoors, 4, 2, 14}};

struct Promised {
  Rate met;
  Rate without;  // no number of seeds in reason promises it
  double seeds = 0;
};

// A towel of n a year or two after harvest, sown within a year of it for so many plants.
Promised promised(const Effort& effort, const Place& place, std::int64_t n, std::int64_t plants,
                  int sowings, std::uint64_t seed) {
  constexpr AgeingWorld world = {"as listed", 1, 0.35, 0};
  constexpr std::int64_t most = 20000;
  return drawn<Promised>(
      effort, 150, seed,
      [&](Random& random, Promised& made) {
        const auto lot = draw_lot(random, world);
        const double tested_on = days_in_year * (1 + random.unit());
        const std::vector<AgedTest> tests = {draw_towel(random, lot, world, tested_on, n)};
        const double sown_on = tested_on + days_in_year * random.unit();
        const auto aged =
            AgedLot::tested(tests, lot.rate(), rho_from_beta(rho_b_towels_and_dishes));
        const auto share = stand_share(sown_in(aged.points(sown_on), rho_from_beta(place.rho_b)),
                                       field_factor_unless_failed(place.ground), sowings);
        const auto seeds = seeds_to_sow(share, plants, 0.9, most);
        made.without.see(seeds ? 0 : 1);
        if (!seeds) return;
        const double f = random.beta(place.a, place.b);
        std::int64_t up = 0;
        for (int sowing = 0; sowing < sowings; ++sowing) {
          const double rho = random.beta(1, place.rho_b);
          const double p = lot.alive(sown_on);
          const double tray = f * random.beta(p * (1 - rho) / rho, (1 - p) * (1 - rho) / rho);
          const std::int64_t in_it = *seeds / sowings + (sowing < *seeds % sowings ? 1 : 0);
          for (std::int64_t i = 0; i < in_it; ++i) up += random.unit() < tray ? 1 : 0;
        }
        made.met.see(up >= plants ? 1 : 0);
        made.seeds += static_cast<double>(*seeds);
      },
      {&Promised::met});
}

}  // namespace

void promised_stands(Report& report, const Effort& effort) {
  report.heading("Stands promised");
  report.say("Lots as in the section above it, tested in one towel and sown within a year after,");
  report.say("with as many seeds as promise the plants at 90 %; rho and the field factor drawn as");
  report.say("believed, of a bed that does not fail whole. Bar: 88 to 95 % of the promises kept.");
  report.head({"place", "sowings", "towel", "plants", "kept", "mean seeds", "none in reason"});
  std::uint64_t seed = 19000;
  for (const Place& place : places)
    for (const int sowings : {1, 4})
      for (const int n : effort.full ? std::vector<int>{10, 20, 50} : std::vector<int>{20})
        for (const int plants :
             effort.full ? std::vector<int>{10, 40, 200} : std::vector<int>{40}) {
          const auto made = promised(effort, place, n, plants, sowings, ++seed);
          report.row({place.name, std::to_string(sowings), std::to_string(n),
                      std::to_string(plants), Report::percent(made.met.share()),
                      Report::number(0, made.seeds / made.met.of),
                      Report::percent(made.without.share())});
          report.bar("stands promised, " + std::string(place.name) + ", " +
                         std::to_string(sowings) + " x, towel of " + std::to_string(n) + ", " +
                         std::to_string(plants),
                     made.met.share(), 0.88 - effort.rate_room(0.88, 150),
                     0.95 + effort.rate_room(0.95, 150));
        }
}

}  // namespace plumule::calibration
