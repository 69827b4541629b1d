// Doses: how often a best one is named and its set holds it, seeds by themselves and with each tray
// counted as the seeds it is worth; and the trend.
#include <algorithm>
#include <cmath>
#include <span>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"
#include "stats/proportions/dose_curve.hpp"
#include "stats/proportions/trend.hpp"
#include "stats/stand/doses.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

// Soaks of 0 to 32 hours, log odds 1.6 - 0.006 (dose - 14)^2, or flat.
constexpr double doses_tried[] = {0, 8, 16, 24, 32};
constexpr double peak = 14;

struct Seen {
  Rate named, held, wrongly;                    // trays; held: of the sets of those named
  Rate seeds_named, seeds_held, seeds_wrongly;  // seeds by themselves
  Rate trend;
};

bool holds(const FiellerSet& set, double dose) {
  if (set.kind == FiellerKind::everything) return true;
  return set.kind == FiellerKind::bounded ? set.lower <= dose && dose <= set.upper
                                          : dose <= set.lower || dose >= set.upper;
}

void see(std::span<const DoseGroup> peaked, std::span<const DoseGroup> flat, Rate& named,
         Rate& held, Rate& wrongly) {
  const auto best = best_dose(peaked);
  named.see(best.status == BestDoseStatus::peak);
  if (best.status == BestDoseStatus::peak) held.see(holds(best.interval, peak));
  wrongly.see(best_dose(flat).status == BestDoseStatus::peak);
}

void one_trial(Random& random, bool unlike, int k, double rho, const RhoPrior& prior, Seen& made) {
  std::vector<DoseGroup> peaked, flat;
  for (const double dose : doses_tried) {
    const double p = share_of(1.6 - 0.006 * (dose - peak) * (dose - peak));
    for (int j = 0; j < k; ++j) {
      const int n = unlike ? (j % 2 == 0 ? 10 : 100) : 25;
      peaked.push_back({dose, Tally(random.beta_binomial(n, p, rho), n)});
      flat.push_back({dose, Tally(random.beta_binomial(n, 0.8, rho), n)});
    }
  }
  see(peaked, flat, made.seeds_named, made.seeds_held, made.seeds_wrongly);
  see(worth_of_trays(peaked, prior).sowings, worth_of_trays(flat, prior).sowings, made.named,
      made.held, made.wrongly);
  const auto armitage = cochran_armitage(flat);
  made.trend.see(armitage && armitage->p <= 0.05);
}

}  // namespace

void doses(Report& report, const Effort& effort) {
  report.heading("Doses: the best one, and the trend");
  report.say("Five soaks (0 to 32 hours), k sowings of each. Peak at 14 hours: how often one is");
  report.say(
      "named, and how often its 95 % set then holds 14; no effect (stand 0.8): how often one");
  report.say("is named all the same. Trays: each tray counted as the seeds it is worth, as it is");
  report.say(
      "shown; seeds: each seed by itself. The trend takes seeds by themselves: barred at rho");
  report.say("0 only.");
  report.head({"sowings", "k", "rho", "named, trays", "seeds", "set holds it, trays", "seeds",
               "named without any, trays", "seeds", "trend (seed level)"});
  const auto prior = rho_from_beta(24);
  constexpr int shortly = 150;
  constexpr double least_held = 0.935, most_wrong = 0.05;
  std::uint64_t seed = 2600;
  for (const bool unlike : effort.full ? std::vector<bool>{false, true} : std::vector<bool>{true})
    for (const int k : effort.full ? std::vector{2, 4} : std::vector{3})
      for (const double rho : effort.full ? std::vector{0.0, 0.03, 0.1} : std::vector{0.0, 0.1}) {
        const auto seen = drawn<Seen>(
            effort, shortly, ++seed,
            [&](Random& random, Seen& made) { one_trial(random, unlike, k, rho, prior, made); },
            {&Seen::held, &Seen::wrongly});
        const std::string name = unlike ? "10 and 100" : "25";
        const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
        report.row({name, std::to_string(k), Report::number(2, rho), percent(seen.named),
                    percent(seen.seeds_named), percent(seen.held), percent(seen.seeds_held),
                    percent(seen.wrongly), percent(seen.seeds_wrongly), percent(seen.trend)});
        const std::string where =
            ", sowings of " + name + ", k " + std::to_string(k) + ", rho " + Report::number(2, rho);
        report.bar("best dose's set" + where, seen.held.share(),
                   least_held - effort.rate_room(least_held, std::max(seen.held.of, 1)), 1);
        report.bar("best dose where there is none" + where, seen.wrongly.share(), 0,
                   most_wrong + effort.rate_room(most_wrong, shortly));
        if (rho == 0)
          report.bar("trend with dose" + where, seen.trend.share(), 0,
                     0.05 + effort.room(0.05, seen.trend.of, 4));
      }
}

}  // namespace plumule::calibration
