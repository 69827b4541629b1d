// Trials that nobody looked at any more while seeds still came up: what a verdict would say of
// them, and what is left of it by the rule that most sowings must have been looked at to the end,
// or have come to rest or nearly so.
#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/times/quiet.hpp"
#include "stats/trials/claims.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Arm {
  std::vector<PlacedUnit> units;
  std::vector<TimeCourse> courses;
  bool most_settled = false;
};

bool done(const TimeCourse& course) {
  double last = 0, before = 0;
  for (const Look& look : course.looks) {
    if (look.total > before) last = look.time;
    before = look.total;
  }
  return emerged(course) == *course.sown || come_to_rest(last, last_look(course)) ||
         nearly_over(course);
}

Arm draw(Random& random, int k, int n, const Timing& timing, bool treated, int stop) {
  std::vector<int> looks;
  for (int day = 1; day <= stop; ++day) looks.push_back(day);
  Arm made;
  int settled = 0;
  for (const auto& sowing : draw_followed(random, k, n, timing, treated, looks)) {
    made.units.push_back({treated ? 1 : 0, 0, sowing.counts.back().up, n});
    made.courses.push_back(course_of(sowing));
    settled += stop >= last_day - 1 || done(made.courses.back()) ? 1 : 0;
  }
  made.most_settled = 2 * settled >= k;
  return made;
}

// A false claim on the stand, one on the days, `neither` on the days; each by the figures alone and
// as it is given.
struct Seen {
  Rate stand, stand_given, days, neither, neither_given, settled;
};

void see(Random& random, int k, int n, double faster, int stop, const RhoPrior& prior, Seen& made) {
  const Arm quick = draw(random, k, n, {0.8, 0.02, 8 * faster, 0.05}, true, stop);
  const Arm slow = draw(random, k, n, {0.8, 0.02, 8, 0.05}, false, stop);
  const bool settled = quick.most_settled && slow.most_settled;
  auto units = quick.units;
  units.insert(units.end(), slow.units.begin(), slow.units.end());
  const auto difference = contrast(StandModel(units, 2, prior), 1, 0);
  const bool stand = is_claim(claim_together({&difference, 1}).front().claim);
  const auto days =
      claim_days({compare_mean_days(quick.courses, slow.courses), std::nullopt}).claim;
  made.settled.see(settled);
  made.stand.see(stand);
  made.stand_given.see(stand && settled);
  made.days.see(days == SpeedClaim::sooner || days == SpeedClaim::later);
  made.neither.see(days == SpeedClaim::neither);
  made.neither_given.see(days == SpeedClaim::neither && settled);
}

}  // namespace

void stopped_looks(Report& report, const Effort& effort) {
  report.heading("Looked at no more before the planned end");
  report.say(
      "p 0.8 in both, rho 0.02, median 8 days, tau 0.05, trays of 50, planned day 21, daily looks");
  report.say(
      "to the day named. Faster 0.85 is 1.2 days: then `neither` on the days is wrong, and so is");
  report.say(
      "any claim on the stand, for what only hurries is ahead for a while. Given: what is left");
  report.say(
      "where most sowings of each came to rest by then or nearly so, or were looked at to the "
      "end.");
  report.head({"k", "faster", "last look", "settled", "stand, wrongly", "given", "sooner or later",
               "neither", "given"});
  constexpr int shortly = 200;
  constexpr double most = 0.065;
  std::uint64_t seed = 7500;
  const auto prior = rho_from_beta(24);
  for (const int k : effort.full ? std::vector{2, 4} : std::vector{4})
    for (const double faster : {1.0, 0.85})
      for (const int stop :
           effort.full ? std::vector{7, 9, 11, 13, 15, 17, 19, 21} : std::vector{9, 21}) {
        const auto seen = drawn<Seen>(
            effort, shortly, ++seed,
            [&](Random& random, Seen& made) { see(random, k, 50, faster, stop, prior, made); },
            {&Seen::stand_given, faster == 1 ? &Seen::days : &Seen::neither_given});
        const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
        report.row({std::to_string(k), Report::number(2, faster), std::to_string(stop),
                    percent(seen.settled), percent(seen.stand), percent(seen.stand_given),
                    percent(seen.days), percent(seen.neither), percent(seen.neither_given)});
        const std::string where = ", " + std::to_string(k) + " trays, faster " +
                                  Report::number(2, faster) + ", last look " + std::to_string(stop);
        const double bar = most + effort.rate_room(most, shortly);
        if (seen.settled.held > 0)
          report.bar("looks stopped: claim on the stand" + where, seen.stand_given.share(), 0, bar);
        if (faster == 1)
          report.bar("looks stopped: claim on the days" + where, seen.days.share(), 0, bar);
        else if (seen.settled.held > 0)
          report.bar("looks stopped: neither on the days" + where, seen.neither_given.share(), 0,
                     bar);
      }
}

}  // namespace plumule::calibration
