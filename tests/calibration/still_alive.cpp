// What sowings that show nothing, or little, say of their lot: dead seed is to be seen as dead, and
// good seed is not to be condemned because March was cold or a bed failed.
#include <cmath>
#include <string>
#include <vector>

#include "drawn_spring.hpp"
#include "parts.hpp"
#include "stats/emerging/sowing_outlook.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr double standard = 0.55;   // what shops must reach, of carrot
constexpr double condemned = 0.10;  // P(meets) under which seed may be called to be replaced
constexpr int step = 2;

// A lot some years old and not tested: probit at harvest N(1.4, 0.5^2), less years over a sigma
// whose logarithm is spread by 0.7 about three years over 0.88; ages from 0 to 4 years.
double draw_lot(Random& random) {
  const double sigma = 3 / 0.88 * std::exp(0.7 * random.normal());
  return normal_lower(1.4 + 0.5 * random.normal() - 4 * random.unit() / sigma);
}

std::vector<Alive> lots_at_large() {
  constexpr int points = 4000, kept = 120;
  Random random(5);
  std::vector<Alive> made;
  std::vector<double> drawn;
  for (int i = 0; i < points; ++i) drawn.push_back(draw_lot(random));
  std::sort(drawn.begin(), drawn.end());
  for (int i = 0; i < kept; ++i)
    made.push_back({drawn[static_cast<std::size_t>((i + 0.5) / kept * points)], 0.97 / kept});
  made.push_back({0, 0.03});
  return made;
}

double reaches(const std::vector<Alive>& alive, double least) {
  double sum = 0;
  for (const auto& [fraction, weight] : alive)
    if (fraction >= least) sum += weight;
  return sum;
}

struct Setting {
  SpringWorld world;
  int sowings;  // of the lot, on different days
  double of;    // P(at least so much of the standard) is asked
  int last_day;
  bool beside = false;  // as many known to be good are laid beside it
};

struct Judged {
  Rate good, seen;  // good lots condemned at any look; dead ones by the last day
  double day = 0;   // on which dead ones were seen
};

// The first look on which the lot may be condemned; 0 for never.
int condemned_on(const std::vector<SpringSowing>& sowings, const SpringSowing& beside,
                 const Setting& setting, const StandingShare& share,
                 const std::vector<Alive>& prior) {
  const auto speed = published(setting.world.bed);
  for (int day = step; day <= setting.last_day; day += step) {
    std::vector<std::array<double, StandingShare::alive_points>> said;
    std::vector<TimeCourse> good;
    if (setting.beside) good.push_back(known_by(beside, setting.world.seeds, day, step));
    for (const auto& sowing : sowings)
      said.push_back(
          SowingOutlook(known_by(sowing, setting.world.seeds, day, step),
                        soil_clock(speed, read_by(sowing, day), warmth_of(setting.world.bed)),
                        share, good)
              .likelihood());
    if (reaches(alive_after(prior, said), setting.of * standard) <= condemned) return day;
  }
  return 0;
}

}  // namespace

void still_alive(Report& report, const Effort& effort) {
  report.heading("Alive, or merely not up: good lots condemned, dead ones seen");
  report.say("Untested lots up to four years old. Condemned: at some look P(the lot meets its");
  report.say("standard, 55 of 100) was at most 10 %, of lots that meet it; of two sowings under");
  report.say("cover P(half the standard). Seen: of dead lots, by the last day, and the day, on");
  report.say("average. Rows are never enough to call for a replacement; what they would say alone");
  report.say(
      "is printed. Looked at every second day. Good seed beside: as many, in the same towel,");
  report.say("known to be good. Carrot, in warm trays tomato.");
  report.head({"where", "readings", "days true / published", "sowings", "good seed beside",
               "to day", "good condemned", "dead seen", "on day"});
  std::vector<Setting> settings{
      {{Bed::warm_towel, Read::never, 10, 1, 0.25, false}, 1, 1, 14, true},
      {{Bed::warm_towel, Read::never, 20, 1, 0.25, false}, 1, 1, 20},
      {{Bed::warm_tray, Read::never, 30, 1, 0.25, false}, 2, 0.5, 14},
      {{Bed::cold_frame, Read::never, 30, 1, 0.25, false}, 2, 0.5, 60}};
  if (effort.full) {
    for (const double wrong : {0.67, 1.5}) {
      settings.push_back({{Bed::warm_towel, Read::never, 10, wrong, 0.25, true}, 1, 1, 20, true});
      settings.push_back({{Bed::warm_towel, Read::never, 20, wrong, 0.25, true}, 1, 1, 20});
    }
    settings.push_back({{Bed::warm_tray, Read::never, 30, 1.5, 0.25, true}, 2, 0.5, 20});
    settings.push_back({{Bed::cold_frame, Read::weekly, 30, 1, 0.25, false}, 2, 0.5, 60});
    settings.push_back({{Bed::cold_frame, Read::never, 30, 1.5, 0.25, true}, 2, 0.5, 60});
    settings.push_back({{Bed::row, Read::never, 100, 1, 0.25, false}, 1, 1, 70});
    settings.push_back({{Bed::row, Read::weekly, 100, 1, 0.25, false}, 1, 1, 70});
  }
  const auto prior = lots_at_large();
  std::uint64_t seed = 18500;
  for (const auto& setting : settings) {
    const auto& world = setting.world;
    const StandingShare share(ground_of(world.bed), rho_of(world.bed));
    const auto condemned_day = [&](Random& random, double alive) {
      std::vector<SpringSowing> sowings;
      SpringSowing beside;
      for (int i = 0; i < setting.sowings; ++i)
        sowings.push_back(draw_spring(random, world, alive, setting.beside ? &beside : nullptr));
      return condemned_on(sowings, beside, setting, share, prior);
    };
    const auto made =
        drawn<Judged>(effort, 40, seed++,
                      [&](Random& random, Judged& judged) {
                        double alive = 0;
                        while (alive < standard) alive = draw_lot(random);
                        judged.good.see(condemned_day(random, alive) > 0);
                        if (judged.seen.of >= 300)
                          return;  // dead sowings are all alike but for their readings
                        const int day = condemned_day(random, 0);
                        judged.seen.see(day > 0);
                        judged.day += day;
                      },
                      {&Judged::good});
    const double seen = made.seen.held;
    report.row({name_of(world.bed), name_of(world.read),
                Report::number(2, world.days_true_over_published), std::to_string(setting.sowings),
                setting.beside ? "yes" : "no", std::to_string(setting.last_day),
                Report::percent(made.good.share()), Report::percent(made.seen.share()),
                seen > 0 ? Report::number(0, made.day / seen) : "none"});
    if (world.bed == Bed::row) continue;
    const std::string name = name_of(world.bed) + (setting.beside ? ", good seed beside" : "") +
                             ", readings " + name_of(world.read);
    report.bar("good lots condemned at any look, " + name, made.good.share(), 0,
               0.02 + effort.room(0.02, made.good.of));
    if (setting.last_day == 14)
      report.bar("dead seed seen by day 14, " + name, made.seen.share(), 0.9, 1);
  }
}

}  // namespace plumule::calibration
