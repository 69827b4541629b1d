// What else rests on values of whole sowings: the interval of one treatment's mean days and t50,
// Welch's where numbers of sowings differ, and drawing lots within blocks.
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/inference/t_test.hpp"
#include "stats/times/speed_comparison.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

void one_treatment(Report& report, const Effort& effort) {
  report.heading("One treatment's mean days and t50: 95 % t intervals over sowings, coverage");
  report.say("p 0.8, rho 0.02, median 8 days, trays of 25, looked at daily.");
  report.head({"k", "tau", "mean days", "t50"});
  const int trials = effort.of(300, 5300);
  Random random(4000);
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{3})
    for (const double tau : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05}) {
      const double mean = 8 * std::exp(0.5 * (log_spread * log_spread + tau * tau));
      std::array<double, 2> held{};
      for (int t = 0; t < trials; ++t) {
        std::array<std::vector<double>, 2> values;
        const auto looks = draw_looks(random, Looks::daily);
        for (const auto& s : draw_followed(random, k, 25, {0.8, 0.02, 8, tau}, false, looks)) {
          const auto course = course_of(s);
          values[0].push_back(mean_days_midway(course).value_or(0));
          values[1].push_back(median_days(course).value_or(0));
        }
        for (const std::size_t i : {0u, 1u}) {
          const auto made = one_mean_t(values[i]);
          const double truth = i == 0 ? mean : 8;
          held[i] += made.interval.lower <= truth && truth <= made.interval.upper ? 1 : 0;
        }
      }
      for (double& share : held) share /= trials;
      report.row({std::to_string(k), Report::number(2, tau), Report::percent(held[0]),
                  Report::percent(held[1])});
      const double error = effort.room(0.95, trials);
      report.bar(
          "one treatment's mean days, k " + std::to_string(k) + ", tau " + Report::number(2, tau),
          held[0], 0.935 - error, 0.965 + error);
    }
}

void unequal(Report& report, const Effort& effort) {
  report.heading("Speed where numbers of sowings differ: Welch's interval, coverage");
  report.say(
      "No difference in median; p 0.8, rho 0.02, trays of 25, looked at daily. Spread tau of");
  report.say("the smaller side, then of the larger. Alike: barred; unlike: printed, for with two");
  report.say("sowings a side no method knows its spread.");
  report.head({"sowings", "tau", "Welch (in force)", "pooled t"});
  const int trials = effort.of(300, 5300);
  Random random(4200);
  struct Sides {
    int few, many;
    double tau_few, tau_many;
  };
  const auto layouts =
      effort.full ? std::vector<Sides>{{2, 4, 0.05, 0.05}, {2, 6, 0.05, 0.05}, {3, 6, 0.05, 0.05},
                                       {4, 6, 0.05, 0.05}, {2, 6, 0.1, 0.03},  {3, 6, 0.1, 0.03}}
                  : std::vector<Sides>{{3, 6, 0.05, 0.05}};
  for (const auto& [few, many, tau_few, tau_many] : layouts) {
    double held = 0, pooled_held = 0;
    const auto mean = [](double tau) {
      return 8 * std::exp(0.5 * (log_spread * log_spread + tau * tau));
    };
    const double truth = mean(tau_few) - mean(tau_many);
    const auto looks = draw_looks(random, Looks::daily);
    for (int t = 0; t < trials; ++t) {
      std::array<std::vector<TimeCourse>, 2> arms;
      for (const auto& s : draw_followed(random, few, 25, {0.8, 0.02, 8, tau_few}, true, looks))
        arms[0].push_back(course_of(s));
      for (const auto& s : draw_followed(random, many, 25, {0.8, 0.02, 8, tau_many}, false, looks))
        arms[1].push_back(course_of(s));
      const auto made = compare_mean_days(arms[0], arms[1]);
      held += made.lower && *made.lower <= truth && truth <= *made.upper ? 1.0 / trials : 0;
      const auto pooled = pooled_t(made.values, made.against_values).interval;
      pooled_held += pooled.lower <= truth && truth <= pooled.upper ? 1.0 / trials : 0;
    }
    const std::string sides = std::to_string(few) + " and " + std::to_string(many);
    report.row({sides, Report::number(2, tau_few) + ", " + Report::number(2, tau_many),
                Report::percent(held), Report::percent(pooled_held)});
    if (std::abs(tau_few - tau_many) < 1e-9)
      report.bar("Welch's interval, " + sides, held, 0.92 - effort.room(0.95, trials), 1);
  }
}

void in_blocks(Report& report, const Effort& effort) {
  report.heading("Lots drawn within blocks: error at 5 % when there is no difference");
  report.say("Two blocks with stands 0.5 and 0.9, k trays of 25 of either treatment in each; lots");
  report.say("drawn within blocks, and the pooled t, which ignores them.");
  report.head({"k a block", "rho", "lots within blocks", "pooled t"});
  const int trials = effort.of(200, 2000);
  Random random(4400);
  for (const int k : effort.full ? std::vector{2, 3} : std::vector{2})
    for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05}) {
      double lots = 0, t = 0;
      for (int trial = 0; trial < trials; ++trial) {
        std::vector<RandomisedUnit> units;
        std::array<std::vector<double>, 2> values;
        for (const int block : {0, 1})
          for (const std::size_t arm : {0u, 1u})
            for (const auto& tray : draw_stand(random, k, 25, block == 0 ? 0.5 : 0.9, rho)) {
              const double value = static_cast<double>(tray.up) / 25;
              units.push_back({std::to_string(units.size()), block, arm == 0, value});
              values[arm].push_back(value);
            }
        lots += randomisation_test(units).p <= 0.05 + 1e-12 ? 1.0 / trials : 0;
        const auto pooled = pooled_t(values[0], values[1]);
        t += pooled.status == TStatus::ok && pooled.p <= 0.05 ? 1.0 / trials : 0;
      }
      report.row(
          {std::to_string(k), Report::number(2, rho), Report::percent(lots), Report::percent(t)});
      report.bar("lots within blocks, k " + std::to_string(k) + ", rho " + Report::number(2, rho),
                 lots, 0, 0.05 + effort.room(0.05, trials));
    }
}

}  // namespace

void sowing_means(Report& report, const Effort& effort) {
  one_treatment(report, effort);
  unequal(report, effort);
  in_blocks(report, effort);
}

}  // namespace plumule::calibration
