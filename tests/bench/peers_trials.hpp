// The invented trials that both sides of the comparison work on.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "records/date.hpp"
#include "stats/numeric/random.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::peers {

using Arm = std::vector<stats::TimeCourse>;

// Dry seed first, then soaked; four trays each.
struct Trial {
  std::string code;
  records::Date sown{};
  std::array<Arm, 2> arms;
};

// 14 looks in 16 days; a quarter of the trays were missed on days of their own. 10 to 100 seeds a
// tray, germinable share of a lot Beta(6, 2), alike within trays by 0.03, log-logistic times;
// soaking adds 0.4 to the logit of the share and takes 0.15 from the log of the time.
std::vector<Trial> draw_trials(int number, stats::Random random);

// As a flat log, which the logbook imports and R reads; and a logbook at `path` with it imported.
std::string flat_log(const std::vector<Trial>& trials);
void store(const std::string& flat, const std::string& path);

// What a clock of processor time says, in seconds.
double cpu_seconds();

}  // namespace plumule::peers
