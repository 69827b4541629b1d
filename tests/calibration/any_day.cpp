// What may be read any day: does it ever claim when there is no difference, and does it claim when
// there is?
#include <algorithm>
#include <cstdint>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/trials/daily_evidence.hpp"
#include "stats/trials/sequential_randomisation.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Claims {
  Rate sequential, deflated, raw;
};

void see(Random& random, int k, int n, const Timing& one, const Timing& other, Looks schedule,
         Claims& made) {
  const auto looks = draw_looks(random, schedule);
  auto sowings = draw_followed(random, k, n, one, true, looks);
  for (auto& s : draw_followed(random, k, n, other, false, looks)) sowings.push_back(std::move(s));
  made.sequential.see(sequential_randomisation(sowings, last_day, last_day, 1).claimed);
  const auto evidence = daily_evidence(sowings, last_day);
  made.deflated.see(evidence.highest_deflated >= 20);
  made.raw.see(evidence.highest_raw >= 20);
}

void keep_higher(Rate& worst, const Rate& here) {
  if (here.share() >= worst.share()) worst = here;
}

}  // namespace

void any_day(Report& report, const Effort& effort) {
  report.heading("Read every day: ever claims when there is no difference");
  report.say(
      "p 0.8, median 8 days, planned day 21. Sequential randomisation test at 5 % over all looks;");
  report.say(
      "evidence ever 20 or more, deflated (as shown) and raw. Highest over daily and irregular "
      "looks.");
  report.head({"k", "n", "rho", "tau", "sequential test", "deflated evidence", "raw evidence"});
  constexpr int shortly = 200;
  struct Spread {
    double rho, tau;
  };
  std::uint64_t seed = 700;
  const std::vector<Spread> spreads =
      effort.full
          ? std::vector<Spread>{{0, 0}, {0.02, 0.05}, {0.05, 0.05}, {0.1, 0}, {0, 0.1}, {0.1, 0.1}}
          : std::vector<Spread>{{0, 0}, {0.1, 0.1}};
  const std::vector<int> sizes = effort.full ? std::vector{10, 25, 50, 100} : std::vector{25};
  const int cells = static_cast<int>(4 * sizes.size() * spreads.size());
  for (const int k : effort.full ? std::vector{4, 6} : std::vector{4})
    for (const int n : sizes)
      for (const auto& [rho, tau] : spreads) {
        Claims worst;
        const Timing timing{0.8, rho, 8, tau};
        for (const Looks schedule : {Looks::daily, Looks::irregular}) {
          const auto here = drawn<Claims>(effort, shortly, ++seed,
                                          [&](Random& random, Claims& made) {
                                            see(random, k, n, timing, timing, schedule, made);
                                          },
                                          {&Claims::sequential, &Claims::deflated});
          keep_higher(worst.sequential, here.sequential);
          keep_higher(worst.deflated, here.deflated);
          keep_higher(worst.raw, here.raw);
        }
        report.row({std::to_string(k), std::to_string(n), Report::number(2, rho),
                    Report::number(2, tau), Report::percent(worst.sequential.share()),
                    Report::percent(worst.deflated.share()), Report::percent(worst.raw.share())});
        const std::string where = ", " + std::to_string(k) + " x " + std::to_string(n) + ", rho " +
                                  Report::number(2, rho) + ", tau " + Report::number(2, tau);
        // The sequential test's level is exact where labels are many.
        report.bar("sequential test" + where, worst.sequential.share(), 0,
                   0.05 + effort.room(0.05, worst.sequential.of, cells));
        report.bar("deflated evidence" + where, worst.deflated.share(), 0,
                   0.05 + effort.rate_room(0.05, shortly));
        if (rho == 0 && tau == 0)
          report.bar("raw evidence" + where, worst.raw.share(), 0,
                     0.05 + effort.rate_room(0.05, shortly));
      }

  report.heading("Read every day: claims when there is a difference");
  report.say("25 seeds a sowing, rho 0.02, tau 0.05, daily looks.");
  report.head({"difference", "k", "sequential test", "deflated evidence", "raw evidence"});
  const Timing base{0.8, 0.02, 8, 0.05};
  struct Effect {
    const char* name;
    Timing timing;
  };
  const std::vector<Effect> effects = {{"stand 0.8 -> 0.6", {0.6, 0.02, 8, 0.05}},
                                       {"stand 0.8 -> 0.93", {0.93, 0.02, 8, 0.05}},
                                       {"time x 0.85", {0.8, 0.02, 6.8, 0.05}},
                                       {"both: 0.9, x 0.9", {0.9, 0.02, 7.2, 0.05}}};
  for (const auto& effect : effects)
    for (const int k : effort.full ? std::vector{4, 6} : std::vector{4}) {
      const auto c = drawn<Claims>(
          effort, 30, ++seed,
          [&](Random& random, Claims& made) {
            see(random, k, 25, effect.timing, base, Looks::daily, made);
          },
          {&Claims::sequential, &Claims::deflated}, power_error);
      report.row({effect.name, std::to_string(k), Report::percent(c.sequential.share()),
                  Report::percent(c.deflated.share()), Report::percent(c.raw.share())});
    }
}

}  // namespace plumule::calibration
