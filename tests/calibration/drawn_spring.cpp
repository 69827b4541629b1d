#include "drawn_spring.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

// Mean soil temperature by day of sowing: outdoors 5 C on 1 March, a degree a week warmer, to 20; a
// cold frame 3 C above; spells of warm and cold that last some days. Indoors 16 to 24 C.
std::vector<double> draw_soil(Random& random, Bed bed) {
  std::vector<double> soil;
  if (bed == Bed::warm_tray || bed == Bed::warm_towel) {
    const double usual = 16 + 8 * random.unit();
    for (int day = 0; day < last_spring_day; ++day) soil.push_back(usual + 0.5 * random.normal());
    return soil;
  }
  const double sown = 60 * random.unit();
  const double start = 5 + 1.5 * random.normal() + (bed == Bed::cold_frame ? 3 : 0);
  double spell = 1.8 * random.normal();
  for (int day = 0; day < last_spring_day; ++day) {
    spell = 0.8 * spell + 0.6 * 1.8 * random.normal();
    soil.push_back(std::min(start + (sown + day) / 7, 20.0) + spell);
  }
  return soil;
}

double draw_factor(Random& random, Bed bed) {
  if (bed == Bed::warm_towel) return 1;
  if (bed == Bed::row) return random.unit() < 0.9 ? random.beta(4, 2) : random.beta(1, 9);
  return random.unit() < 0.95 ? random.beta(18, 2) : random.beta(1, 19);
}

// The days on which they come, by a clock given for whole days.
std::vector<double> draw_times(Random& random, const SpringWorld& world, double mean,
                               const std::vector<double>& clock) {
  std::vector<double> made;
  const auto up = random.beta_binomial(world.seeds, mean, rho_of(world.bed));
  for (std::int64_t i = 0; i < up; ++i) {
    const bool late = world.stragglers && random.unit() < 0.05;
    const double needs = std::exp(world.spread * random.normal()) * (late ? 2 : 1);
    const auto reached = std::lower_bound(clock.begin(), clock.end(), needs);
    if (reached == clock.end()) continue;
    const auto day = static_cast<std::size_t>(reached - clock.begin());
    const double before = clock[day - 1];
    made.push_back(static_cast<double>(day - 1) + (needs - before) / (clock[day] - before));
  }
  std::sort(made.begin(), made.end());
  return made;
}

}  // namespace

std::string name_of(Bed bed) {
  switch (bed) {
    case Bed::row:
      return "row";
    case Bed::cold_frame:
      return "cold frame";
    case Bed::warm_tray:
      return "warm tray";
    case Bed::warm_towel:
      break;
  }
  return "warm towel";
}
std::string name_of(Read read) {
  return read == Read::never ? "none" : read == Read::once ? "one" : "weekly";
}

EmergenceSpeed published(Bed bed) {
  if (bed != Bed::warm_tray)
    return {{{5, 51}, {10, 17}, {15, 10}, {20, 7}, {25, 6}, {30, 6}, {35, 9}}, 2.1};
  return {{{10, 43}, {15, 14}, {20, 8}, {25, 6}, {30, 6}, {35, 9}}, 7.5};
}

Ground ground_of(Bed bed) {
  if (bed == Bed::row) return Ground::outdoors;
  return bed == Bed::warm_towel ? Ground::towel : Ground::under_cover;
}

double rho_of(Bed bed) {
  if (bed == Bed::row) return 1.0 / 15;
  return bed == Bed::warm_towel ? 1.0 / 50 : 1.0 / 25;
}

Warmth warmth_of(Bed bed) {
  return bed == Bed::warm_tray || bed == Bed::warm_towel ? Warmth::heated : Warmth::not_known;
}

int SpringSowing::up_by(double day) const {
  return static_cast<int>(std::upper_bound(came.begin(), came.end(), day) - came.begin());
}

SpringSowing draw_spring(Random& random, const SpringWorld& world, double alive,
                         SpringSowing* beside) {
  const auto soil = draw_soil(random, world.bed);
  const auto speed = published(world.bed);
  std::vector<double> clock{0};
  for (const double warm : soil)
    clock.push_back(clock.back() + speed.at(warm) / world.days_true_over_published);
  SpringSowing made;
  made.alive = alive;
  made.came = draw_times(random, world, alive * draw_factor(random, world.bed), clock);
  if (beside != nullptr) {
    beside->alive = random.beta(18, 2);
    beside->came = draw_times(random, world, beside->alive, clock);
  }

  // Read of a morning: a degree under the day's mean or more or less, by habit and by chance.
  const double habit = -1 + random.normal();
  for (std::size_t day = 0; day < soil.size(); day += 7) {
    if (world.read == Read::never || (world.read == Read::once && day > 0)) break;
    made.readings.push_back(
        {static_cast<double>(day) + 0.3, soil[day] + habit + 1.1 * random.normal()});
  }
  return made;
}

TimeCourse known_by(const SpringSowing& sowing, int seeds, int day, int step) {
  TimeCourse course;
  course.sown = seeds;
  for (int look = step; look <= day; look += step)
    course.looks.push_back({static_cast<double>(look), static_cast<double>(sowing.up_by(look))});
  return course;
}

std::vector<SoilReading> read_by(const SpringSowing& sowing, int day) {
  std::vector<SoilReading> made;
  for (const auto& reading : sowing.readings)
    if (reading.day <= day) made.push_back(reading);
  return made;
}

}  // namespace plumule::calibration
