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
  Rate randomisation, t, fisher, mid_p, agreement;
};
constexpr std::array every_test = {&Errors::randomisation, &Errors::t, &Errors::fisher,
                                   &Errors::mid_p, &Errors::agreement};

// The tests by seeds are asked at rho 0 only, where their promise holds; that of agreement, each a
// drawing of lots by itself, in every fourth trial.
void see(Random& random, int k, int n, double p, double rho, Errors& made) {
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
  made.t.see(pooled.status == TStatus::ok && pooled.p <= 0.05);
  made.randomisation.see(randomisation_test(units).p <= 0.05 + 1e-12);
  if (rho > 0) return;
  const double seeds = k * n;
  const TwoByTwo table(up[0], seeds, up[1], seeds);
  made.fisher.see(fisher(table) <= 0.05);
  made.mid_p.see(fisher_mid_p(table) <= 0.05);
  if (made.t.of % 4 != 0) return;
  const auto agree = heterogeneity(tallies, default_seed, 999);
  made.agreement.see(agree && agree->p <= 0.05);
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
  constexpr int shortly = 400;
  std::uint64_t seed = 100;
  const std::vector<int> trays = effort.full ? std::vector{2, 3, 4, 6} : std::vector{4};
  const std::vector<int> sizes = effort.full ? std::vector{10, 25, 50} : std::vector{25};
  const std::vector<double> rhos =
      effort.full ? std::vector{0.0, 0.02, 0.05, 0.1} : std::vector{0.0, 0.1};
  const std::vector<double> stands = {0.3, 0.6, 0.8, 0.9, 0.95};
  const int cells = static_cast<int>(trays.size() * sizes.size() * rhos.size() * stands.size());
  for (const int k : trays)
    for (const double rho : rhos) {
      Errors worst;
      int worst_n = 0;
      double worst_p = 0;
      for (const int n : sizes)
        for (const double p : stands) {
          const auto here =
              drawn<Errors>(effort, shortly, ++seed,
                            [&](Random& random, Errors& made) { see(random, k, n, p, rho, made); },
                            {&Errors::randomisation, &Errors::t});
          if (here.t.share() > worst.t.share()) {
            worst_n = n;
            worst_p = p;
          }
          for (const auto test : every_test)
            if ((here.*test).share() >= (worst.*test).share()) worst.*test = here.*test;
        }
      const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
      const auto seeds_only = [&](const Rate& rate) { return rho == 0 ? percent(rate) : ""; };
      report.row({std::to_string(k), Report::number(2, rho), percent(worst.randomisation),
                  percent(worst.t), seeds_only(worst.fisher), seeds_only(worst.mid_p),
                  seeds_only(worst.agreement)});
      const std::string where =
          ", worst cell, k " + std::to_string(k) + ", rho " + Report::number(2, rho);
      const auto room = [&](const Rate& rate) { return effort.room(0.05, rate.of, cells); };
      report.bar("randomisation test" + where, worst.randomisation.share(), 0,
                 0.05 + room(worst.randomisation));
      if (worst.t.share() > 0.05 + room(worst.t) && rho == 0 && worst_n <= 25) {
        const auto exact = pooled_t_error(k, worst_n, worst_p);  // few enough to add up
        report.exact_bar("pooled t" + where + ", n " + std::to_string(worst_n) + ", p " +
                             Report::number(2, worst_p),
                         exact.error, 0, 0.05, why_over(exact, worst_n, worst_p));
      } else {
        report.bar("pooled t" + where, worst.t.share(), 0, 0.05 + room(worst.t));
      }
      if (rho > 0) continue;
      report.bar("fisher" + where, worst.fisher.share(), 0, 0.05 + room(worst.fisher));
      report.bar("agreement of trays" + where, worst.agreement.share(), 0,
                 0.05 + room(worst.agreement));
    }
}

}  // namespace plumule::calibration
