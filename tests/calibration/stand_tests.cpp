// Error of the tests of a difference in stand when there is none.
#include <algorithm>
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/inference/t_test.hpp"
#include "stats/proportions/fisher.hpp"
#include "stats/proportions/replicates.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Errors {
  double randomisation = 0, t = 0, fisher = 0, mid_p = 0, agreement = 0;
};

// The tests by seeds are asked at rho 0 only, where their promise holds.
Errors cell(int k, int n, double p, double rho, int trials, std::uint64_t seed) {
  Random random(seed);
  Errors made;
  const int agreements = std::max(1, trials / 4);  // each a drawing of lots by itself
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
    if (trial >= agreements) continue;
    const auto agree = heterogeneity(tallies, default_seed, 999);
    made.agreement += agree && agree->p <= 0.05 ? 1 : 0;
  }
  for (double* error : {&made.randomisation, &made.t, &made.fisher, &made.mid_p}) *error /= trials;
  made.agreement /= agreements;
  return made;
}

}  // namespace

void stand_tests(Report& report, const Effort& effort) {
  report.heading("Tests of a difference in stand: error at 5 % when there is none");
  report.say(
      "Highest over p 0.3, 0.6, 0.8, 0.9, 0.95 and trays of 10, 25, 50. Tests at the level of the");
  report.say("sowing first; those at the level of the seed are shown at rho 0 only, where their");
  report.say("promise holds (mid-p makes none). The t ignores that fractions are not normal.");
  report.head(
      {"k", "rho", "randomisation", "pooled t", "fisher", "fisher-mid-p", "agreement of trays"});
  const int trials = effort.of(400, 1000);
  std::uint64_t seed = 100;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{4})
    for (const double rho :
         effort.full ? std::vector{0.0, 0.02, 0.05, 0.1} : std::vector{0.0, 0.1}) {
      Errors worst;
      int drawn = trials, worst_n = 0;
      double worst_p = 0;
      for (const int n : effort.full ? std::vector{10, 25, 50} : std::vector{25})
        for (const double p : {0.3, 0.6, 0.8, 0.9, 0.95}) {
          const auto [here, times] = settled(
              trials, ++seed,
              [&](int some, std::uint64_t from) { return cell(k, n, p, rho, some, from); },
              [](const Errors& e) {
                return std::max({e.randomisation, e.t, e.fisher, e.agreement}) > 0.05;
              });
          if (here.t > worst.t) {
            worst_n = n;
            worst_p = p;
          }
          for (const auto error : {&Errors::randomisation, &Errors::t, &Errors::fisher,
                                   &Errors::mid_p, &Errors::agreement})
            worst.*error = std::max(worst.*error, here.*error);
          drawn = std::max(drawn, times);
        }
      const auto seeds_only = [rho](double error) {
        return rho == 0 ? Report::percent(error) : "";
      };
      report.row({std::to_string(k), Report::number(2, rho), Report::percent(worst.randomisation),
                  Report::percent(worst.t), seeds_only(worst.fisher), seeds_only(worst.mid_p),
                  seeds_only(worst.agreement)});
      const std::string where =
          ", worst cell, k " + std::to_string(k) + ", rho " + Report::number(2, rho);
      // Worst of some fifteen cells: a little over three errors of one.
      const double error = 1.2 * three_errors(0.05, drawn);
      report.bar("randomisation test" + where, worst.randomisation, 0, 0.05 + error);
      if (worst.t > 0.05 + error && rho == 0 && worst_n <= 25) {  // few enough to add up
        const auto exact = pooled_t_error(k, worst_n, worst_p);
        report.exact_bar("pooled t" + where + ", n " + std::to_string(worst_n) + ", p " +
                             Report::number(2, worst_p),
                         exact.error, 0, 0.05, why_over(exact, worst_n, worst_p));
      } else {
        report.bar("pooled t" + where, worst.t, 0, 0.05 + error);
      }
      if (rho > 0) continue;
      report.bar("fisher" + where, worst.fisher, 0, 0.05 + error);
      report.bar("agreement of trays" + where, worst.agreement, 0, 0.05 + 2 * error);
    }
}

}  // namespace plumule::calibration
