// Two to five treatments against one control: any false claim of the verdict on the stand, and of
// the tests beside it; and seed-level tests within blocks.
#include <algorithm>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"
#include "stats/inference/multiplicity.hpp"
#include "stats/proportions/stratified.hpp"
#include "stats/trials/global_test.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

// Any false claim of the tests that stand beside the verdict.
struct Beside {
  Rate lots, global;
};

void judge_beside(Random& random, const SupposedTrial& trial, Beside& made) {
  std::vector<TreatedUnit> all;
  for (const auto& unit : sow(random, trial))
    all.push_back({std::to_string(all.size()), unit.stratum, unit.treatment,
                   static_cast<double>(unit.up) / static_cast<double>(unit.sown)});
  std::vector<double> lots;
  for (int t = 1; t < trial.treatments(); ++t) {
    std::vector<RandomisedUnit> two;
    for (const auto& unit : all)
      if (unit.treatment == t || unit.treatment == 0)
        two.push_back({unit.code, unit.block, unit.treatment == t, unit.value});
    lots.push_back(randomisation_test(two).p);
  }
  const auto adjusted = holm(lots);
  made.lots.see(*std::min_element(adjusted.begin(), adjusted.end()) <= 0.05 + 1e-12);
  made.global.see(global_randomisation_test(all, default_seed, 999).p <= 0.05 + 1e-12);
}

void families(Report& report, const Effort& effort) {
  report.heading("Several treatments: any false claim against one control, when none differs");
  report.say(
      "Four trays of 30 each, stand 0.8, or one in each of four blocks from 0.90 to 0.60. The");
  report.say("verdict on the stand, as it is given (Holm) and were each difference the only one;");
  report.say(
      "coverage of the differences' ranges, each by itself; and beside it the drawing of lots");
  report.say("by Holm and the global test over all (999 lots).");
  report.head({"treatments", "layout", "rho", "any wrong claim", "each by itself", "coverage",
               "lots, Holm", "global test"});
  constexpr int shortly = 300;
  constexpr double most_wrong = 0.065;
  const int cells = effort.of(1, 16);
  std::uint64_t seed = 2000;
  for (const int treatments : effort.full ? std::vector{2, 3, 4, 5} : std::vector{4})
    for (const bool blocks :
         effort.full ? std::vector<bool>{false, true} : std::vector<bool>{false})
      for (const double rho : effort.full ? std::vector{0.03, 0.1} : std::vector{0.1}) {
        std::vector<Spot> spots;
        for (int t = 0; t < treatments; ++t)
          for (int i = 0; i < 4; ++i) spots.push_back({t, blocks ? i : 0, 30});
        const auto trial =
            alike(spots, blocks ? gradient(0.9, 0.6, 4) : std::vector{0.8}, rho, treatments);
        const auto judged =
            judge(effort, trial, ++seed, {&Judged::false_claims, &Judged::covered}, 1000);
        const auto beside =
            drawn<Beside>(effort, shortly, ++seed,
                          [&](Random& random, Beside& made) { judge_beside(random, trial, made); },
                          {&Beside::lots, &Beside::global});
        const std::string name = blocks ? "4 blocks" : "4 trays";
        const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
        report.row({std::to_string(treatments), name, rho_name(rho), percent(judged.false_claims),
                    percent(judged.by_itself), percent(judged.covered), percent(beside.lots),
                    percent(beside.global)});
        const std::string where =
            ", family of " + std::to_string(treatments) + ", " + name + ", rho " + rho_name(rho);
        report.bar("wrong claims on the stand" + where, judged.false_claims.share(), 0,
                   most_wrong + effort.rate_room(most_wrong, 1000));
        report.bar("drawing of lots by Holm" + where, beside.lots.share(), 0,
                   0.05 + effort.room(0.05, beside.lots.of, cells));
        report.bar("global test" + where, beside.global.share(), 0,
                   0.05 + effort.room(0.05, beside.global.of, cells));
      }
}

// Four blocks, stands 0.5 to 0.9, one tray of each treatment in each.
struct Blocks {
  Rate haenszel, day, covered, day_apart;
};

void four_blocks(Random& random, int n, double rho, Blocks& made) {
  std::vector<TwoByTwo> same, apart;
  for (const double p : {0.5, 0.7, 0.8, 0.9}) {
    const double odds = 2 * p / (1 - p), better = odds / (1 + odds);
    const auto up = [&](double chance) { return random.beta_binomial(n, chance, rho); };
    same.emplace_back(up(p), n, up(p), n);
    apart.emplace_back(up(better), n, up(p), n);
  }
  const auto test = cochran_mantel_haenszel(same);
  made.haenszel.see(test && test->p <= 0.05);
  const auto agreement = breslow_day(same), agreement_apart = breslow_day(apart);
  made.day.see(agreement && agreement->tarone.p <= 0.05);
  made.day_apart.see(agreement_apart && agreement_apart->tarone.p <= 0.05);
  if (const auto ratio = mantel_haenszel_odds_ratio(apart); ratio.interval)
    made.covered.see(ratio.interval->lower <= 2 && 2 <= ratio.interval->upper);
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
  constexpr int shortly = 200;
  const int cells = effort.of(1, 3);
  std::uint64_t seed = 2700;
  for (const int n : effort.full ? std::vector{25, 50, 100} : std::vector{50})
    for (const double rho : effort.full ? std::vector{0.0, 0.02, 0.05, 0.1} : std::vector{0.0}) {
      const auto seen =
          drawn<Blocks>(effort, shortly, ++seed,
                        [&](Random& random, Blocks& made) { four_blocks(random, n, rho, made); },
                        {&Blocks::haenszel, &Blocks::day, &Blocks::covered});
      const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
      report.row({std::to_string(n), Report::number(2, rho), percent(seen.haenszel),
                  percent(seen.day), percent(seen.covered), percent(seen.day_apart)});
      if (rho > 0) continue;
      const std::string where = ", n " + std::to_string(n) + ", rho 0";
      const double level = 0.05 + effort.room(0.05, seen.day.of, cells);
      report.bar("Mantel-Haenszel" + where, seen.haenszel.share(), 0, level);
      report.bar("Breslow-Day" + where, seen.day.share(), 0, level);
      report.bar("Mantel-Haenszel odds ratio" + where, seen.covered.share(),
                 0.94 - effort.rate_room(0.94, shortly), 0.965 + effort.rate_room(0.965, shortly));
    }
}

}  // namespace

void several_treatments(Report& report, const Effort& effort) {
  families(report, effort);
  blocks(report, effort);
}

}  // namespace plumule::calibration
