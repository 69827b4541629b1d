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
  double sequential = 0, deflated = 0, raw = 0;
};

Claims cell(int k, int n, const Timing& one, const Timing& other, Looks schedule, int trials,
            std::uint64_t seed) {
  Random random(seed);
  Claims made;
  for (int t = 0; t < trials; ++t) {
    const auto looks = draw_looks(random, schedule);
    auto sowings = draw_followed(random, k, n, one, true, looks);
    for (auto& s : draw_followed(random, k, n, other, false, looks))
      sowings.push_back(std::move(s));
    made.sequential +=
        sequential_randomisation(sowings, last_day, last_day, 1).claimed ? 1.0 / trials : 0;
    const auto evidence = daily_evidence(sowings, last_day);
    made.deflated += evidence.highest_deflated >= 20 ? 1.0 / trials : 0;
    made.raw += evidence.highest_raw >= 20 ? 1.0 / trials : 0;
  }
  return made;
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
  const int trials = effort.of(200, 500);
  struct Spread {
    double rho, tau;
  };
  std::uint64_t seed = 700;
  const std::vector<Spread> spreads =
      effort.full
          ? std::vector<Spread>{{0, 0}, {0.02, 0.05}, {0.05, 0.05}, {0.1, 0}, {0, 0.1}, {0.1, 0.1}}
          : std::vector<Spread>{{0, 0}, {0.1, 0.1}};
  for (const int k : effort.full ? std::vector{4, 6} : std::vector{4})
    for (const int n : effort.full ? std::vector{10, 25, 50, 100} : std::vector{25})
      for (const auto& [rho, tau] : spreads) {
        Claims worst;
        int drawn = trials;
        const Timing timing{0.8, rho, 8, tau};
        const bool independent = rho == 0 && tau == 0;
        for (const Looks schedule : {Looks::daily, Looks::irregular}) {
          const auto [here, times] = settled(
              trials, ++seed,
              [&](int some, std::uint64_t from) {
                return cell(k, n, timing, timing, schedule, some, from);
              },
              [independent](const Claims& c) {
                return std::max({c.sequential, c.deflated, independent ? c.raw : 0}) > 0.05;
              });
          worst.sequential = std::max(worst.sequential, here.sequential);
          worst.deflated = std::max(worst.deflated, here.deflated);
          worst.raw = std::max(worst.raw, here.raw);
          drawn = std::max(drawn, times);
        }
        report.row({std::to_string(k), std::to_string(n), Report::number(2, rho),
                    Report::number(2, tau), Report::percent(worst.sequential),
                    Report::percent(worst.deflated), Report::percent(worst.raw)});
        const std::string where = ", " + std::to_string(k) + " x " + std::to_string(n) + ", rho " +
                                  Report::number(2, rho) + ", tau " + Report::number(2, tau);
        const double error = 1.2 * three_errors(0.05, drawn);
        report.bar("sequential test" + where, worst.sequential, 0, 0.05 + error);
        report.bar("deflated evidence" + where, worst.deflated, 0, 0.05 + error);
        if (independent) report.bar("raw evidence" + where, worst.raw, 0, 0.05 + error);
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
      const auto c = cell(k, 25, effect.timing, base, Looks::daily, effort.of(30, 500), ++seed);
      report.row({effect.name, std::to_string(k), Report::percent(c.sequential),
                  Report::percent(c.deflated), Report::percent(c.raw)});
    }
}

}  // namespace plumule::calibration
