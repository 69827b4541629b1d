// Error and power of the verdict on the stand, closed as planned and extended after looking.
#include <algorithm>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/inference/t_test.hpp"
#include "stats/trays/bayes_factor.hpp"
#include "stats/trays/tray_aware_difference.hpp"
#include "stats/trials/trays_to_tell.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

// Share of trials with p alike that claim more or fewer.
double wrong_claims(int k, int n, double p, double rho, int trials, std::uint64_t seed) {
  const auto chances = stand_chances(p, p, rho, k, n, rho_from_beta(24), 1e-9, trials, seed);
  return chances.more + chances.fewer;
}

// Trays added one by one after looking, judged at 1, 2, 3, 4, 6 and 8 each.
double wrong_after_looking(int n, double p, double rho, int trials, std::uint64_t seed) {
  Random random(seed);
  int wrong = 0;
  for (int t = 0; t < trials; ++t) {
    const auto first = draw_stand(random, 8, n, p, rho), second = draw_stand(random, 8, n, p, rho);
    for (const std::size_t k : {2u, 3u, 4u, 6u, 8u}) {
      const std::span one(first.data(), k), two(second.data(), k);
      if (stand_bayes_factor(one, two).value < 20) continue;
      ++wrong;
      break;
    }
  }
  return static_cast<double>(wrong) / trials;
}

}  // namespace

void stand_verdicts(Report& report, const Effort& effort) {
  const auto prior = rho_from_beta(24);
  report.heading("Verdict on the stand: wrong claims when there is no difference");
  report.say(
      "Closed as planned, prior Beta(1, 24). Highest (mean) over p 0.3, 0.6, 0.8, 0.9, 0.95 and");
  report.say("trays of 10, 25, 50, 100.");
  report.head({"k", "rho", "more or fewer, wrongly"});
  const int trials = effort.of(1000, 2000);
  std::uint64_t seed = 5000;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{2, 4})
    for (const double rho : effort.full ? std::vector{0.0, 0.02, 0.05, 0.1} : std::vector{0.1}) {
      double worst = 0, mean = 0;
      int cells = 0, drawn = trials;
      for (const int n : effort.full ? std::vector{10, 25, 50, 100} : std::vector{25})
        for (const double p :
             effort.full ? std::vector{0.3, 0.6, 0.8, 0.9, 0.95} : std::vector{0.6, 0.9}) {
          const auto [error, times] = settled(
              trials, ++seed,
              [&](int some, std::uint64_t from) { return wrong_claims(k, n, p, rho, some, from); },
              [](double wrong) { return wrong > 0.065; });
          worst = std::max(worst, error);
          mean += error;
          drawn = std::max(drawn, times);
          ++cells;
        }
      report.row({std::to_string(k), Report::number(2, rho),
                  Report::percent(worst) + " (" + Report::percent(mean / cells) + ")"});
      report.bar(
          "verdict, k " + std::to_string(k) + ", rho " + Report::number(2, rho) + ", worst cell",
          worst, 0, 0.065 + three_errors(0.06, drawn));
    }

  report.heading("Verdict on the stand: what trials of a size give");
  report.say("rho 0.02, prior Beta(1, 24), smallest difference worth having 10 points.");
  report.head({"p", "k", "n", "more", "fewer", "neither", "too small"});
  const int power_trials = effort.of(60, 400);
  struct Case {
    double p1, p2;
  };
  for (const auto& [p1, p2] : effort.full ? std::vector<Case>{{0.8, 0.6}, {0.9, 0.8}, {0.9, 0.9}}
                                          : std::vector<Case>{{0.8, 0.6}})
    for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{4})
      for (const int n : effort.full ? std::vector{25, 50} : std::vector{25}) {
        const auto c = stand_chances(p1, p2, 0.02, k, n, prior, 0.1, power_trials, ++seed);
        report.row({Report::number(1, p1) + ", " + Report::number(1, p2), std::to_string(k),
                    std::to_string(n), Report::percent(c.more), Report::percent(c.fewer),
                    Report::percent(c.neither), Report::percent(c.too_small)});
        // "neither" at a true difference of exactly d
        if (p1 == 0.9 && p2 == 0.8)
          report.bar("neither though d apart, " + std::to_string(k) + " x " + std::to_string(n),
                     c.neither, 0, 0.065 + three_errors(0.06, power_trials));
      }

  report.heading("Verdict on the stand: sowings added after looking");
  report.say(
      "No difference; trays of 25 and 50 added, judged at 2, 3, 4, 6 and 8 each, stopped at a");
  report.say("Bayes factor of 20. Highest over p 0.6, 0.9.");
  report.head({"rho", "wrong at any look"});
  const int looked = effort.of(150, 300);
  for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.1}) {
    double worst = 0;
    for (const int n : effort.full ? std::vector{25, 50} : std::vector{25})
      for (const double p : {0.6, 0.9})
        worst = std::max(worst, wrong_after_looking(n, p, rho, looked, ++seed));
    report.row({Report::number(2, rho), Report::percent(worst)});
    report.bar("Bayes factor of 20 at any look, rho " + Report::number(2, rho), worst, 0,
               0.05 + three_errors(0.04, looked));
  }
}

}  // namespace plumule::calibration
