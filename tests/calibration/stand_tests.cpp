// Error of the tests of a difference in stand when there is none.
#include <array>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/fisher.hpp"
#include "stats/randomisation.hpp"
#include "stats/replicates.hpp"
#include "stats/t_test.hpp"
#include "stats/unconditional_tests.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Errors {
  double randomisation = 0, t = 0, fisher = 0, mid_p = 0, barnard = 0, boschloo = 0, agreement = 0;
};

Errors cell(int k, int n, double p, double rho, int trials, int exact_trials, std::uint64_t seed) {
  Random random(seed);
  Errors made;
  for (int trial = 0; trial < trials; ++trial) {
    const auto first = draw_stand(random, k, n, p, rho), second = draw_stand(random, k, n, p, rho);
    std::array<std::vector<double>, 2> fractions;
    std::array<double, 2> up{};
    std::vector<RandomisedUnit> units;
    std::vector<Tally> tallies;
    for (const std::size_t arm : {0u, 1u})
      for (const auto& tray : arm == 0 ? first : second) {
        const double fraction = static_cast<double>(tray.up) / n;
        fractions[arm].push_back(fraction);
        up[arm] += static_cast<double>(tray.up);
        units.push_back({std::to_string(units.size()), 0, arm == 0, fraction});
        if (arm == 0) tallies.emplace_back(tray.up, tray.sown);
      }
    const auto pooled = pooled_t(fractions[0], fractions[1]);
    made.t += pooled.status == TStatus::ok && pooled.p <= 0.05 ? 1 : 0;
    made.randomisation += randomisation_test(units).p <= 0.05 + 1e-12 ? 1 : 0;
    if (rho > 0) continue;
    const double seeds = k * n;
    const TwoByTwo table(up[0], seeds, up[1], seeds);
    made.fisher += fisher(table) <= 0.05 ? 1 : 0;
    made.mid_p += fisher_mid_p(table) <= 0.05 ? 1 : 0;
    if (trial < exact_trials) {
      made.barnard += barnard(table).p <= 0.05 ? 1 : 0;
      made.boschloo += boschloo(table).p <= 0.05 ? 1 : 0;
      const auto agree = heterogeneity(tallies, default_seed, 999);
      made.agreement += agree && agree->p <= 0.05 ? 1 : 0;
    }
  }
  for (double* error : {&made.randomisation, &made.t, &made.fisher, &made.mid_p}) *error /= trials;
  for (double* error : {&made.barnard, &made.boschloo, &made.agreement}) *error /= exact_trials;
  return made;
}

}  // namespace

void stand_tests(Report& report, const Effort& effort) {
  report.heading("Tests of a difference in stand: error at 5 % when there is none");
  report.say(
      "Highest over p 0.3, 0.6, 0.8, 0.9, 0.95 and trays of 10, 25, 50; the last three, drawn "
      "less");
  report.say(
      "often, averaged over them. Tests at the level of the sowing first; those at the level of");
  report.say(
      "the seed are shown at rho 0 only, where their promise holds. The t ignores that fractions");
  report.say("are not normal: at p 0.95 it may err more.");
  report.head({"k", "rho", "randomisation", "pooled t", "fisher", "fisher-mid-p", "barnard",
               "boschloo", "agreement of trays"});
  const int trials = effort.of(400, 1000), exact_trials = effort.of(40, 100);
  std::uint64_t seed = 100;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{4})
    for (const double rho :
         effort.full ? std::vector{0.0, 0.02, 0.05, 0.1} : std::vector{0.0, 0.1}) {
      Errors worst, mean;
      int cells = 0;
      for (const int n : effort.full ? std::vector{10, 25, 50} : std::vector{25})
        for (const double p : {0.3, 0.6, 0.8, 0.9, 0.95}) {
          const auto here = cell(k, n, p, rho, trials, exact_trials, ++seed);
          ++cells;
          for (const auto error :
               {&Errors::randomisation, &Errors::t, &Errors::fisher, &Errors::mid_p,
                &Errors::barnard, &Errors::boschloo, &Errors::agreement}) {
            worst.*error = std::max(worst.*error, here.*error);
            mean.*error += here.*error;
          }
        }
      const auto seeds_only = [rho](double error) {
        return rho == 0 ? Report::percent(error) : "";
      };
      report.row({std::to_string(k), Report::number(2, rho), Report::percent(worst.randomisation),
                  Report::percent(worst.t), seeds_only(worst.fisher), seeds_only(worst.mid_p),
                  seeds_only(mean.barnard / cells), seeds_only(mean.boschloo / cells),
                  seeds_only(mean.agreement / cells)});
      const std::string where = ", k " + std::to_string(k) + ", rho " + Report::number(2, rho);
      // Worst of some fifteen cells: a little over three errors of one.
      const double error = 1.2 * three_errors(0.05, trials);
      report.bar("randomisation test, worst cell" + where, worst.randomisation, 0, 0.05 + error);
      report.bar("pooled t, mean over cells" + where, mean.t / cells, 0,
                 0.055 + three_errors(0.05, trials * cells));
      if (rho > 0) continue;
      report.bar("fisher, worst cell" + where, worst.fisher, 0, 0.05 + error);
      report.bar("barnard, mean over cells" + where, mean.barnard / cells, 0,
                 0.05 + three_errors(0.05, exact_trials * cells));
      report.bar("agreement of trays, mean over cells" + where, mean.agreement / cells, 0,
                 0.05 + three_errors(0.05, exact_trials * cells));
      report.bar("boschloo, mean over cells" + where, mean.boschloo / cells, 0,
                 0.05 + three_errors(0.05, exact_trials * cells));
    }
}

}  // namespace plumule::calibration
