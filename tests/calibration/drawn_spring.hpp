// Sowings drawn in a supposed spring: the soil's days, readings of them, what came up and when.
// Climate and field factors are from memory: what is tested is the structure, not the last digit.
#pragma once

#include <string>
#include <vector>

#include "stats/ageing/field_factor.hpp"
#include "stats/emerging/soil_clock.hpp"
#include "stats/numeric/random.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::calibration {

enum class Bed { row, cold_frame, warm_tray, warm_towel };
enum class Read { never, once, weekly };

struct SpringWorld {
  Bed bed = Bed::row;
  Read read = Read::never;
  int seeds = 100;
  double days_true_over_published = 1;  // the published days are wrong by that
  double spread = 0.25;                 // of log time
  bool stragglers = false;              // 5 % at twice the time
};
std::string name_of(Bed bed);
std::string name_of(Read read);

// Tomato's published days (warm trays) or carrot's (elsewhere), after Harrington and Minges 1954.
stats::EmergenceSpeed published(Bed bed);
stats::Ground ground_of(Bed bed);
double rho_of(Bed bed);  // of the trays drawn, and of the rule: the mean of the setting's prior
stats::Warmth warmth_of(Bed bed);

inline constexpr int last_spring_day = 220;

struct SpringSowing {
  double alive = 0;                          // g of its lot
  std::vector<double> came;                  // days, rising, of all that ever come
  std::vector<stats::SoilReading> readings;  // all of them
  int up_by(double day) const;
};

// Sown in March or April; `alive` as given. `beside`: the same number of good seed in the same
// soil, Beta(18, 2) of it alive, is drawn too.
SpringSowing draw_spring(stats::Random& random, const SpringWorld& world, double alive,
                         SpringSowing* beside = nullptr);

// As it was known on that day, looked at every `step` days from day `step` on.
stats::TimeCourse known_by(const SpringSowing& sowing, int seeds, int day, int step);
std::vector<stats::SoilReading> read_by(const SpringSowing& sowing, int day);

}  // namespace plumule::calibration
