// The give-up day of sowings in cool springs, frames and warm trays: how often more came after it,
// how long was waited for nothing, and whether ranges of what is still to come hold.
#include <cmath>
#include <string>
#include <vector>

#include "drawn_spring.hpp"
#include "parts.hpp"
#include "stats/emerging/sowing_outlook.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr int step = 3;  // days between looks

struct GiveUps {
  Rate wrong;             // more came after it
  Rate to_come, half_up;  // 90 % ranges that held
  double waited = 0;      // days after the last seedling, where any came
  int came = 0;
  double empty = 0;  // the give-up day where none came
  int none = 0;
};

// 5 % of lots dead, else Beta(2, 1) alive: what the rule supposes.
double usual_lot(Random& random) { return random.unit() < 0.05 ? 0 : std::sqrt(random.unit()); }

// Whether half of those that come were up within the days foretold before sowing.
bool half_within(const SpringSowing& sowing, std::vector<ClockPath> paths) {
  const double half = sowing.came[(sowing.came.size() - 1) / 2];
  const double before = in_time(std::move(paths), half, 0.5);
  return before >= 0.05 && before <= 0.95;
}

void one_sowing(Random& random, const SpringWorld& world, const StandingShare& share,
                GiveUps& made) {
  const auto sowing = draw_spring(random, world, usual_lot(random));
  const auto speed = published(world.bed);
  const auto alive = usual_alive();
  if (sowing.came.size() >= 5)
    made.half_up.see(half_within(sowing, soil_clock(speed, {}, warmth_of(world.bed))));
  bool foretold = false;
  for (int day = 2 * step; day < last_spring_day; day += step) {
    const bool fifth = !foretold && sowing.up_by(day) >= 5;
    const bool news = sowing.up_by(day) > sowing.up_by(day - step);
    if (news && !fifth && sowing.up_by(day) < world.seeds) continue;
    const SowingOutlook outlook(known_by(sowing, world.seeds, day, step),
                                soil_clock(speed, read_by(sowing, day), warmth_of(world.bed)),
                                share);
    if (fifth) {
      const auto coming = outlook.still_to_come(alive, no_end);
      const double came = static_cast<double>(sowing.came.size()) - sowing.up_by(day);
      made.to_come.see(coming.lower <= came && came <= coming.upper);
      foretold = true;
    }
    if (news || outlook.any_more(alive) >= hardly_any) continue;
    made.wrong.see(static_cast<double>(sowing.came.size()) > sowing.up_by(day));
    if (sowing.came.empty()) {
      made.empty += day;
      ++made.none;
    } else {
      made.waited += day - std::min<double>(sowing.came.back(), day);
      ++made.came;
    }
    return;
  }
  made.wrong.see(false);
}

}  // namespace

void give_ups(Report& report, const Effort& effort) {
  report.heading("No more is waited for: the give-up day");
  report.say("Rows (150 seeds, carrot) and frames and trays (40 seeds) sown in March and April,");
  report.say("looked at every third day. Wrong: another came after the first look with less than");
  report.say(
      "5 % for one more. Waited: days after the last seedling, on average. Empty: the day on");
  report.say("which a sowing is given up that never shows anything. To come: the 90 % range, from");
  report.say("the look with the fifth seedling, of how many more come. Half up: the 90 % range,");
  report.say("before sowing, of the day when half of them are. Every row and tray may fail whole.");
  report.head({"bed", "readings", "days true / published", "spread", "stragglers", "wrong",
               "waited", "empty", "to come", "half up"});
  std::vector<SpringWorld> worlds;
  for (const Read read : {Read::never, Read::once, Read::weekly})
    for (const double wrong : {1.0, 0.67, 1.5})
      if (effort.full || (wrong == 1.0 && read != Read::once))
        worlds.push_back({Bed::row, read, 150, wrong, 0.25, false});
  worlds.push_back({Bed::row, Read::never, 150, 1, 0.25, true});
  for (const double wrong : {1.0, 1.5})
    worlds.push_back({Bed::warm_tray, Read::never, 40, wrong, 0.25, false});
  if (effort.full) {
    worlds.push_back({Bed::row, Read::weekly, 150, 1, 0.25, true});
    worlds.push_back({Bed::row, Read::weekly, 150, 1, 0.4, false});
    worlds.push_back({Bed::cold_frame, Read::never, 40, 1, 0.25, false});
    worlds.push_back({Bed::cold_frame, Read::weekly, 40, 1, 0.25, false});
    worlds.push_back({Bed::warm_tray, Read::never, 40, 0.67, 0.25, false});
    worlds.push_back({Bed::warm_tray, Read::never, 40, 1, 0.25, true});
    worlds.push_back({Bed::warm_tray, Read::never, 40, 1, 0.4, false});
  }
  std::uint64_t seed = 18000;
  const int trials = 30;
  double waited_in_all = 0;
  for (const auto& world : worlds) {
    const StandingShare share(ground_of(world.bed), rho_of(world.bed));
    const auto made =
        drawn<GiveUps>(effort, trials, seed++,
                       [&](Random& random, GiveUps& g) { one_sowing(random, world, share, g); },
                       {&GiveUps::wrong});
    const double waited = made.came > 0 ? made.waited / made.came : 0;
    waited_in_all += waited / static_cast<double>(worlds.size());
    report.row({name_of(world.bed), name_of(world.read),
                Report::number(2, world.days_true_over_published), Report::number(2, world.spread),
                world.stragglers ? "yes" : "no", Report::percent(made.wrong.share()),
                Report::number(1, waited),
                made.none > 0 ? Report::number(0, made.empty / made.none) : "none",
                Report::percent(made.to_come.share()), Report::percent(made.half_up.share())});
    const std::string name = name_of(world.bed) + ", readings " + name_of(world.read);
    report.bar("given up wrongly, " + name, made.wrong.share(), 0,
               0.05 + effort.room(0.05, made.wrong.of));
    report.bar("90 % range of what is to come, " + name, made.to_come.share(),
               0.88 - effort.room(0.88, made.to_come.of),
               0.99 + effort.room(0.99, made.to_come.of));
    if (world.days_true_over_published == 1)
      report.bar("90 % range of the day half are up, " + name, made.half_up.share(),
                 0.88 - effort.room(0.88, made.half_up.of), 1);
  }
  report.bar("days waited after the last seedling (of 100), all of these alike",
             waited_in_all / 100, 0, 0.25);
}

}  // namespace plumule::calibration
