// More than two treatments, doses and blocks: errors of the tests over them and coverage of the
// best dose.
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/inference/multiplicity.hpp"
#include "stats/inference/t_test.hpp"
#include "stats/proportions/dose_curve.hpp"
#include "stats/proportions/stratified.hpp"
#include "stats/proportions/trend.hpp"
#include "stats/trials/global_test.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

std::vector<double> fractions(const std::vector<TrayCount>& trays) {
  std::vector<double> made;
  for (const auto& tray : trays)
    made.push_back(static_cast<double>(tray.up) / static_cast<double>(tray.sown));
  return made;
}

// Any false claim among three treatments held against a control, all alike; and of the global test.
struct Together {
  double plain = 0, holm_t = 0, holm_lots = 0, global = 0;
};

Together four_alike(int k, double p, double rho, int trials, std::uint64_t seed) {
  Random random(seed);
  Together made;
  for (int trial = 0; trial < trials; ++trial) {
    std::array<std::vector<double>, 4> arms;
    std::vector<TreatedUnit> units;
    for (std::size_t arm = 0; arm < 4; ++arm) {
      arms[arm] = fractions(draw_stand(random, k, 25, p, rho));
      for (const double value : arms[arm])
        units.push_back({std::to_string(units.size()), 0, static_cast<int>(arm), value});
    }
    std::vector<double> t, lots;
    for (std::size_t arm = 1; arm < 4; ++arm) {
      const auto pooled = pooled_t(arms[arm], arms[0]);
      t.push_back(pooled.status == TStatus::ok ? pooled.p : 1);
      std::vector<RandomisedUnit> two;
      for (const std::size_t side : {arm, std::size_t{0}})
        for (const double value : arms[side])
          two.push_back({std::to_string(two.size()), 0, side == arm, value});
      lots.push_back(randomisation_test(two).p);
    }
    const auto any = [](const std::vector<double>& list) {
      return std::any_of(list.begin(), list.end(), [](double one) { return one <= 0.05 + 1e-12; });
    };
    made.plain += any(t) ? 1.0 / trials : 0;
    made.holm_t += any(holm(t)) ? 1.0 / trials : 0;
    made.holm_lots += any(holm(lots)) ? 1.0 / trials : 0;
    made.global +=
        global_randomisation_test(units, default_seed, 999).p <= 0.05 + 1e-12 ? 1.0 / trials : 0;
  }
  return made;
}

void families(Report& report, const Effort& effort) {
  report.heading("Several treatments: any false claim among three against a control");
  report.say(
      "Four treatments alike, p 0.8, trays of 25. The t unadjusted, the t and the drawing of");
  report.say("lots by Holm, and the global test over all four (999 lots).");
  report.head({"k", "rho", "t, unadjusted", "t, Holm", "lots, Holm", "global test"});
  const int trials = effort.of(200, 1000);
  std::uint64_t seed = 2000;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{3})
    for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05}) {
      const auto [c, drawn] = settled(
          trials, ++seed,
          [&](int some, std::uint64_t from) { return four_alike(k, 0.8, rho, some, from); },
          [](const Together& t) {
            return std::max({t.holm_t, t.holm_lots, t.global}) > 0.05;
          });
      report.row({std::to_string(k), Report::number(2, rho), Report::percent(c.plain),
                  Report::percent(c.holm_t), Report::percent(c.holm_lots),
                  Report::percent(c.global)});
      const std::string where = ", k " + std::to_string(k) + ", rho " + Report::number(2, rho);
      const double error = 1.2 * three_errors(0.05, drawn);
      report.bar("Holm over three t" + where, c.holm_t, 0, 0.05 + error);
      report.bar("Holm over three drawings" + where, c.holm_lots, 0, 0.05 + error);
      report.bar("global test" + where, c.global, 0, 0.05 + error);
    }
}

// Doses 0, 8, 16, 24, 32 hours; log odds 1.6 - 0.006 (dose - 14)^2, or flat.
void doses(Report& report, const Effort& effort) {
  report.heading("Doses: the best one, and the trend");
  report.say(
      "Five soaks (0 to 32 hours), k sowings of 25 each. Peak at 14 hours: how often one is");
  report.say("named, and how often its 95 % set then holds 14; no effect: how often one is named");
  report.say("all the same, and the seed-level trend's error, barred at rho 0 only.");
  report.head({"k", "rho", "peak named", "set holds it", "bounded", "named without any",
               "trend (seed level)"});
  const int trials = effort.of(100, 1000);
  Random random(2600);
  for (const int k : effort.full ? std::vector{2, 3, 4} : std::vector{3})
    for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.0}) {
      int named = 0, held = 0, bounded = 0, wrongly = 0, trend = 0;
      for (int trial = 0; trial < trials; ++trial) {
        std::vector<DoseGroup> peaked, flat;
        for (const double dose : {0.0, 8.0, 16.0, 24.0, 32.0}) {
          const double odds = std::exp(1.6 - 0.006 * (dose - 14) * (dose - 14));
          for (const auto& tray : draw_stand(random, k, 25, odds / (1 + odds), rho))
            peaked.push_back({dose, Tally(tray.up, tray.sown)});
          for (const auto& tray : draw_stand(random, k, 25, 0.8, rho))
            flat.push_back({dose, Tally(tray.up, tray.sown)});
        }
        const auto best = best_dose(peaked);
        if (best.status == BestDoseStatus::peak) {
          ++named;
          const auto& set = best.interval;
          const bool inside =
              set.kind == FiellerKind::everything ||
              (set.kind == FiellerKind::bounded ? set.lower <= 14 && 14 <= set.upper
                                                : 14 <= set.lower || 14 >= set.upper);
          held += inside ? 1 : 0;
          bounded += set.kind == FiellerKind::bounded ? 1 : 0;
        }
        wrongly += best_dose(flat).status == BestDoseStatus::peak ? 1 : 0;
        const auto armitage = cochran_armitage(flat);
        trend += armitage && armitage->p <= 0.05 ? 1 : 0;
      }
      const auto share = [](int part, int whole) {
        return whole > 0 ? static_cast<double>(part) / whole : 0;
      };
      report.row({std::to_string(k), Report::number(2, rho), Report::percent(share(named, trials)),
                  Report::percent(share(held, named)), Report::percent(share(bounded, named)),
                  Report::percent(share(wrongly, trials)), Report::percent(share(trend, trials))});
      const std::string where = ", k " + std::to_string(k) + ", rho " + Report::number(2, rho);
      report.bar("best dose's set" + where, share(held, named), 0.93 - three_errors(0.95, named),
                 1);
      report.bar("best dose where there is none" + where, share(wrongly, trials), 0,
                 0.05 + three_errors(0.05, trials));
      if (rho == 0)
        report.bar("trend with dose" + where, share(trend, trials), 0,
                   0.05 + three_errors(0.05, trials));
    }
}

// Four blocks, stands 0.5 to 0.9, one tray of each treatment in each.
struct Blocks {
  double haenszel = 0, day = 0, covered = 0, day_apart = 0;
};

Blocks four_blocks(int n, double rho, int trials, std::uint64_t seed) {
  Random random(seed);
  Blocks made;
  int held = 0, given = 0;
  for (int trial = 0; trial < trials; ++trial) {
    std::vector<TwoByTwo> same, apart;
    for (const double p : {0.5, 0.7, 0.8, 0.9}) {
      const double odds = 2 * p / (1 - p), better = odds / (1 + odds);
      const auto up = [&](double chance) { return random.beta_binomial(n, chance, rho); };
      same.emplace_back(up(p), n, up(p), n);
      apart.emplace_back(up(better), n, up(p), n);
    }
    const auto test = cochran_mantel_haenszel(same);
    made.haenszel += test && test->p <= 0.05 ? 1.0 / trials : 0;
    const auto agreement = breslow_day(same), agreement_apart = breslow_day(apart);
    made.day += agreement && agreement->tarone.p <= 0.05 ? 1.0 / trials : 0;
    made.day_apart += agreement_apart && agreement_apart->tarone.p <= 0.05 ? 1.0 / trials : 0;
    if (const auto ratio = mantel_haenszel_odds_ratio(apart); ratio.interval) {
      ++given;
      held += ratio.interval->lower <= 2 && 2 <= ratio.interval->upper ? 1 : 0;
    }
  }
  made.covered = given > 0 ? static_cast<double>(held) / given : 1;
  return made;
}

void blocks(Report& report, const Effort& effort) {
  report.heading("Blocks: seed-level tests within them");
  report.say(
      "Four blocks with stands 0.5, 0.7, 0.8, 0.9, one tray of n of either treatment in each.");
  report.say(
      "No difference: error of Mantel-Haenszel and of Breslow-Day (Tarone); odds ratio 2 in");
  report.say("every block: coverage of the Mantel-Haenszel odds ratio, error of Breslow-Day. They");
  report.say("take seeds as independent: barred at rho 0, their failure printed elsewhere.");
  report.head(
      {"n", "rho", "Mantel-Haenszel", "Breslow-Day", "odds ratio holds 2", "Breslow-Day at 2"});
  const int trials = effort.of(200, 2000);
  std::uint64_t seed = 2700;
  for (const int n : effort.full ? std::vector{25, 50, 100} : std::vector{50})
    for (const double rho : effort.full ? std::vector{0.0, 0.02, 0.05, 0.1} : std::vector{0.0}) {
      const auto [c, drawn] = settled(
          trials, ++seed,
          [&](int some, std::uint64_t from) { return four_blocks(n, rho, some, from); },
          [rho](const Blocks& b) {
            return rho == 0 &&
                   (std::max(b.haenszel, b.day) > 0.05 || b.covered < 0.94 || b.covered > 0.965);
          });
      report.row({std::to_string(n), Report::number(2, rho), Report::percent(c.haenszel),
                  Report::percent(c.day), Report::percent(c.covered),
                  Report::percent(c.day_apart)});
      if (rho > 0) continue;
      const std::string where = ", n " + std::to_string(n) + ", rho 0";
      const double error = three_errors(0.05, drawn);
      report.bar("Mantel-Haenszel" + where, c.haenszel, 0, 0.05 + error);
      report.bar("Breslow-Day" + where, c.day, 0, 0.05 + error);
      report.bar("Mantel-Haenszel odds ratio" + where, c.covered, 0.94 - error, 0.965 + error);
    }
}

}  // namespace

void several_treatments(Report& report, const Effort& effort) {
  families(report, effort);
  doses(report, effort);
  blocks(report, effort);
}

}  // namespace plumule::calibration
