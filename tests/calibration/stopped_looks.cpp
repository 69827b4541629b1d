// Trials that nobody looked at any more while seeds still came up: what a verdict would say of
// them, and what is left of it by the rule that most sowings must have been looked at to the end,
// or have come to rest or nearly so.
#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/times/quiet.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/stand_evidence.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

bool claims(StandClaim claim) { return claim == StandClaim::more || claim == StandClaim::fewer; }
bool claims(SpeedClaim claim) { return claim == SpeedClaim::sooner || claim == SpeedClaim::later; }

struct Arm {
  std::vector<StandUnit> units;
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
    made.units.push_back({{{sowing.counts.back().up, n}}});
    made.courses.push_back(course_of(sowing));
    settled += stop >= last_day - 1 || done(made.courses.back()) ? 1 : 0;
  }
  made.most_settled = 2 * settled >= k;
  return made;
}

// Shares of trials: a false claim on the stand, one on the days, `neither` on the days; each by the
// figures alone and as it is given.
struct Shares {
  double stand = 0, stand_given = 0, days = 0, neither = 0, neither_given = 0, settled = 0;
};

Shares cell(int k, int n, double faster, int stop, int trials, std::uint64_t seed) {
  Random random(seed);
  Shares made;
  const auto prior = rho_from_beta(24);
  const double one = 1.0 / trials;
  for (int t = 0; t < trials; ++t) {
    const Arm quick = draw(random, k, n, {0.8, 0.02, 8 * faster, 0.05}, true, stop);
    const Arm slow = draw(random, k, n, {0.8, 0.02, 8, 0.05}, false, stop);
    const bool settled = quick.most_settled && slow.most_settled;
    const auto stand = stand_claim(stand_evidence(quick.units, slow.units, prior));
    const auto days = claim_of_days(compare_mean_days(quick.courses, slow.courses));
    made.settled += settled ? one : 0;
    made.stand += claims(stand) ? one : 0;
    made.stand_given += claims(stand) && settled ? one : 0;
    made.days += claims(days) ? one : 0;
    made.neither += days == SpeedClaim::neither ? one : 0;
    made.neither_given += days == SpeedClaim::neither && settled ? one : 0;
  }
  return made;
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
  const int trials = effort.of(200, 2000);
  std::uint64_t seed = 7500;
  for (const int k : effort.full ? std::vector{2, 4} : std::vector{4})
    for (const double faster : {1.0, 0.85})
      for (const int stop :
           effort.full ? std::vector{7, 9, 11, 13, 15, 17, 19, 21} : std::vector{9, 21}) {
        const auto [c, drawn] = settled(
            trials, ++seed,
            [&](int some, std::uint64_t from) { return cell(k, 50, faster, stop, some, from); },
            [&](const Shares& s) {
              return std::max(s.stand_given, faster == 1 ? s.days : s.neither_given) > 0.065;
            });
        report.row({std::to_string(k), Report::number(2, faster), std::to_string(stop),
                    Report::percent(c.settled), Report::percent(c.stand),
                    Report::percent(c.stand_given), Report::percent(c.days),
                    Report::percent(c.neither), Report::percent(c.neither_given)});
        const std::string where = ", " + std::to_string(k) + " trays, faster " +
                                  Report::number(2, faster) + ", last look " + std::to_string(stop);
        const double error = 1.2 * three_errors(0.06, drawn);
        if (c.settled > 0)
          report.bar("looks stopped: claim on the stand" + where, c.stand_given, 0, 0.065 + error);
        if (faster == 1)
          report.bar("looks stopped: claim on the days" + where, c.days, 0, 0.065 + error);
        else if (c.settled > 0)
          report.bar("looks stopped: neither on the days" + where, c.neither_given, 0,
                     0.065 + error);
      }
}

}  // namespace plumule::calibration
