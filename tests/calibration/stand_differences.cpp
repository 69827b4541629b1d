// Coverage of the intervals of a difference in stand.
#include <array>
#include <utility>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/proportions/two_proportions.hpp"
#include "stats/trays/tray_aware_difference.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr std::array<std::pair<double, double>, 6> truths = {
    {{0.3, 0.3}, {0.6, 0.6}, {0.9, 0.9}, {0.8, 0.6}, {0.95, 0.85}, {0.5, 0.2}}};

struct Shares {
  double tray_aware = 0, newcombe = 0, miettinen_nurminen = 0;
};

Shares cell(int k, int n, double rho, std::pair<double, double> p, int trials, std::uint64_t seed) {
  Random random(seed);
  const auto prior = rho_from_beta(24);
  Shares made;
  const double truth = p.first - p.second;
  for (int t = 0; t < trials; ++t) {
    const double here = rho >= 0 ? rho : random.beta(1, 24);
    const auto first = draw_stand(random, k, n, p.first, here);
    const auto second = draw_stand(random, k, n, p.second, here);
    double up1 = 0, up2 = 0;
    for (const auto& tray : first) up1 += static_cast<double>(tray.up);
    for (const auto& tray : second) up2 += static_cast<double>(tray.up);
    // Within the equal-tailed interval just where the chance of more lies within its two tails.
    const double above = TrayAwareDifference(first, second, prior).probability_better_by(truth);
    made.tray_aware += above >= 0.025 && above <= 0.975 ? 1 : 0;
    const double seeds = k * n;
    const TwoByTwo table(up1, seeds, up2, seeds);
    const auto newcombe = newcombe_difference(table);
    const auto score = miettinen_nurminen_difference(table);
    made.newcombe += newcombe.lower <= truth && truth <= newcombe.upper ? 1 : 0;
    made.miettinen_nurminen += score.lower <= truth && truth <= score.upper ? 1 : 0;
  }
  for (double* share : {&made.tray_aware, &made.newcombe, &made.miettinen_nurminen})
    *share /= trials;
  return made;
}

}  // namespace

void stand_differences(Report& report, const Effort& effort) {
  report.heading("Difference of two stands: 95 % intervals");
  report.say(
      "Mean (lowest) coverage over six pairs of p (0.3, 0.6, 0.9 alike; 0.8-0.6, 0.95-0.85,");
  report.say("0.5-0.2), trays of 25 and 50, prior Beta(1, 24). The last two take seeds as");
  report.say("independent: barred at rho 0 only.");
  report.head({"k", "rho", "tray-aware", "newcombe", "miettinen-nurminen"});
  const int trials = effort.of(100, 450);
  std::uint64_t seed = 1;
  for (const int k : effort.full ? std::vector{1, 2, 3, 4, 6} : std::vector{2})
    for (const double rho :
         effort.full ? std::vector{0.0, 0.02, 0.05, 0.1, -1.0} : std::vector{0.0, -1.0}) {
      Shares mean, lowest{1, 1, 1};
      int cells = 0;
      for (const int n : {25, 50})
        for (const auto& p : truths) {
          const auto here = cell(k, n, rho, p, trials, ++seed);
          ++cells;
          mean.tray_aware += here.tray_aware;
          mean.newcombe += here.newcombe;
          mean.miettinen_nurminen += here.miettinen_nurminen;
          lowest.tray_aware = std::min(lowest.tray_aware, here.tray_aware);
          lowest.newcombe = std::min(lowest.newcombe, here.newcombe);
          lowest.miettinen_nurminen = std::min(lowest.miettinen_nurminen, here.miettinen_nurminen);
        }
      const auto both = [cells](double sum, double least) {
        return Report::percent(sum / cells) + " (" + Report::percent(least) + ")";
      };
      const std::string name = rho < 0 ? "from its prior" : Report::number(2, rho);
      report.row({std::to_string(k), name, both(mean.tray_aware, lowest.tray_aware),
                  both(mean.newcombe, lowest.newcombe),
                  both(mean.miettinen_nurminen, lowest.miettinen_nurminen)});
      const double error = effort.room(0.95, static_cast<double>(cells) * trials);
      const std::string where = ", k " + std::to_string(k) + ", rho " + name;
      if (rho < 0)
        report.bar("tray-aware difference" + where, mean.tray_aware / cells, 0.935 - error,
                   0.975 + error);
      if (rho == 0) {
        report.bar("newcombe difference" + where, mean.newcombe / cells, 0.94 - error,
                   0.97 + error);
        report.bar("miettinen-nurminen difference" + where, mean.miettinen_nurminen / cells,
                   0.94 - error, 0.97 + error);
      }
    }
}

}  // namespace plumule::calibration
