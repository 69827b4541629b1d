// The verdicts where blocks differ, sowings are of unequal number, share a jar or are no longer
// looked at: error and power by the differences within blocks, and by the rule that ignores blocks.
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/numeric/random.hpp"
#include "stats/times/speed_comparison.hpp"
#include "stats/trials/block_evidence.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/stand_evidence.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

double share_of(double logit) { return 1 / (1 + std::exp(-logit)); }
double logit_of(double share) { return std::log(share / (1 - share)); }
bool claims(StandClaim claim) { return claim == StandClaim::more || claim == StandClaim::fewer; }

// Units of the two treatments in each block, and how many blocks.
struct Layout {
  const char* name;
  int blocks, first, second;
};

// Blocks spread on the logit scale by that sd; odds of the first over the second.
struct Truth {
  double p, rho, spread, odds;
};

struct BlockTrial {
  std::vector<StandUnit> first, second;
  std::vector<StratumValue> one, two;
  std::vector<RandomisedUnit> units;
};

BlockTrial draw(Random& random, const Layout& at, int n, const Truth& truth) {
  BlockTrial made;
  for (int block = 0; block < at.blocks; ++block) {
    const double base = logit_of(truth.p) + truth.spread * random.normal();
    for (const bool treated : {true, false})
      for (int i = 0; i < (treated ? at.first : at.second); ++i) {
        const double p = share_of(base + (treated ? std::log(truth.odds) : 0));
        const TrayCount tray{random.beta_binomial(n, p, truth.rho), n};
        const double value = static_cast<double>(tray.up) / n;
        (treated ? made.first : made.second).push_back({{tray}});
        (treated ? made.one : made.two).push_back({value, block});
        made.units.push_back({std::to_string(made.units.size()), block, treated, value});
      }
  }
  return made;
}

struct Claims {
  double within = 0, stated = 0, neither = 0;
};

Claims claims_of(const Layout& at, int n, const Truth& truth, int trials, std::uint64_t seed,
                 double worth = 0.1) {
  Random random(seed);
  Claims made;
  const auto prior = rho_from_beta(24);
  for (int t = 0; t < trials; ++t) {
    const auto trial = draw(random, at, n, truth);
    // Lots are asked for where nothing varies within blocks.
    const bool flat = t_within_strata(trial.one, trial.two).status == TStatus::no_variance;
    const double lots = flat ? randomisation_test(trial.units).p : 1;
    const auto claim = stand_claim(stand_evidence_within_blocks(trial.one, trial.two, lots, worth));
    made.within += claims(claim) ? 1.0 / trials : 0;
    made.neither += claim == StandClaim::neither ? 1.0 / trials : 0;
    const auto t_of = [](const std::vector<StratumValue>& values) {
      std::vector<double> plain;
      for (const auto& value : values) plain.push_back(value.value);
      return plain;
    };
    const auto pooled = pooled_t(t_of(trial.one), t_of(trial.two));
    if (pooled.status == TStatus::ok && pooled.p > 0.05) continue;  // no claim without it
    made.stated += claims(stand_claim(stand_evidence(trial.first, trial.second, prior, worth)))
                       ? 1.0 / trials
                       : 0;
  }
  return made;
}

void errors(Report& report, const Effort& effort) {
  report.heading("Verdict within blocks: wrong claims when there is no difference");
  report.say(
      "Blocks of trays of either treatment; stands of blocks spread about p with that sd of");
  report.say("the logit (0.7: from 0.43 to 0.75 about 0.6). By the differences within blocks, in");
  report.say("force where they leave 5 degrees of freedom, and by the rule that ignores blocks.");
  report.say("Highest (mean) over p 0.3 to 0.99 and trays of 10, 25, 100.");
  report.head({"blocks", "spread", "rho", "within blocks", "ignoring blocks"});
  const int trials = effort.of(600, 1500);
  std::uint64_t seed = 6000;
  const std::vector<Layout> layouts = effort.full ? std::vector<Layout>{{"6 of 1 and 1", 6, 1, 1},
                                                                        {"8 of 1 and 1", 8, 1, 1},
                                                                        {"2 of 2 and 2", 2, 2, 2},
                                                                        {"3 of 2 and 1", 3, 2, 1},
                                                                        {"4 of 2 and 2", 4, 2, 2}}
                                                  : std::vector<Layout>{{"6 of 1 and 1", 6, 1, 1}};
  for (const auto& at : layouts)
    for (const double spread : {0.0, 0.7})
      for (const double rho : effort.full ? std::vector{0.0, 0.02, 0.1} : std::vector{0.02}) {
        Claims worst, mean;
        int cells = 0, drawn = trials;
        for (const int n : effort.full ? std::vector{10, 25, 100} : std::vector{25})
          for (const double p :
               effort.full ? std::vector{0.3, 0.6, 0.8, 0.95, 0.99} : std::vector{0.6, 0.9}) {
            const auto [c, times] = settled(
                trials, ++seed,
                [&](int some, std::uint64_t from) {
                  return claims_of(at, n, {p, rho, spread, 1}, some, from);
                },
                [](const Claims& first) { return first.within > 0.065; });
            worst.within = std::max(worst.within, c.within);
            worst.stated = std::max(worst.stated, c.stated);
            mean.within += c.within;
            mean.stated += c.stated;
            drawn = std::max(drawn, times);
            ++cells;
          }
        report.row(
            {at.name, Report::number(1, spread), Report::number(2, rho),
             Report::percent(worst.within) + " (" + Report::percent(mean.within / cells) + ")",
             Report::percent(worst.stated) + " (" + Report::percent(mean.stated / cells) + ")"});
        report.bar(std::string("verdict within blocks, ") + at.name + ", spread " +
                       Report::number(1, spread) + ", rho " + Report::number(2, rho),
                   worst.within, 0, 0.065 + three_errors(0.06, drawn));
      }
}

void powers(Report& report, const Effort& effort) {
  report.heading("Verdict within blocks: claims when there is a difference");
  report.say("Trays of 50, about 0.6; odds 2 (0.75 against 0.6 where blocks are alike).");
  report.head({"blocks", "spread", "rho", "within blocks", "ignoring blocks"});
  const int trials = effort.of(200, 1000);
  std::uint64_t seed = 6500;
  for (const auto& at : effort.full ? std::vector<Layout>{{"6 of 1 and 1", 6, 1, 1},
                                                          {"8 of 1 and 1", 8, 1, 1},
                                                          {"2 of 2 and 2", 2, 2, 2},
                                                          {"4 of 2 and 2", 4, 2, 2}}
                                    : std::vector<Layout>{{"6 of 1 and 1", 6, 1, 1}})
    for (const double spread : {0.0, 0.7, 1.4})
      for (const double rho : effort.full ? std::vector{0.0, 0.02, 0.05} : std::vector{0.02}) {
        const auto c = claims_of(at, 50, {0.6, rho, spread, 2}, trials, ++seed);
        report.row({at.name, Report::number(1, spread), Report::number(2, rho),
                    Report::percent(c.within), Report::percent(c.stated)});
      }
  report.say("\nNeither, though 10 points apart in every block (0.5 against 0.6), trays of 100:");
  report.head({"blocks", "rho", "neither"});
  for (const double rho : effort.full ? std::vector{0.0, 0.05} : std::vector{0.0}) {
    const Layout at{"6 of 1 and 1", 6, 1, 1};
    const auto c = claims_of(at, 100, {0.5, rho, 0, 1.5}, trials, ++seed);
    report.row({at.name, Report::number(2, rho), Report::percent(c.neither)});
    report.bar("neither within blocks though d apart, rho " + Report::number(2, rho), c.neither, 0,
               0.065 + three_errors(0.06, trials));
  }
}

// Four sowings of a treatment share two jars, which differ; or the treatments have unlike numbers.
void jars_and_unequal(Report& report, const Effort& effort) {
  report.heading("Verdict on the stand: jars, and unequal numbers, when there is no difference");
  report.say(
      "p 0.8. Jars: two (three, four) a treatment, each of two trays of 25; rho within trays");
  report.say(
      "and again between the jars of a treatment. By the jar, as it is judged, and as if each");
  report.say("tray were treated by itself (printed: what not recording the jar does).");
  report.head({"layout", "rho", "by the unit", "by the tray"});
  const int trials = effort.of(400, 2000);
  const auto prior = rho_from_beta(24);
  std::uint64_t seed = 6800;
  const auto row = [&](const std::string& name, double rho, double unit,
                       std::optional<double> tray) {
    report.row(
        {name, Report::number(2, rho), Report::percent(unit), tray ? Report::percent(*tray) : ""});
    report.bar("verdict of unlike units, " + name + ", rho " + Report::number(2, rho), unit, 0,
               0.065 + 1.2 * three_errors(0.06, trials));
  };
  for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05})
    for (const int jars : effort.full ? std::vector{2, 3, 4} : std::vector{2}) {
      Random random(++seed);
      double by_jar = 0, by_tray = 0;
      for (int t = 0; t < trials; ++t) {
        std::array<std::vector<StandUnit>, 2> units, trays;
        for (const std::size_t arm : {0u, 1u})
          for (int jar = 0; jar < jars; ++jar) {
            const double p = rho > 0 ? random.beta(0.8 * (1 / rho - 1), 0.2 * (1 / rho - 1)) : 0.8;
            StandUnit unit;
            for (int i = 0; i < 2; ++i)
              unit.sowings.push_back(
                  {random.beta_binomial(25, std::clamp(p, 1e-9, 1 - 1e-9), rho), 25});
            for (const auto& sowing : unit.sowings) trays[arm].push_back({{sowing}});
            units[arm].push_back(std::move(unit));
          }
        const auto judge = [&](const std::array<std::vector<StandUnit>, 2>& of) {
          return claims(stand_claim(stand_evidence(of[0], of[1], prior)));
        };
        by_jar += judge(units) ? 1.0 / trials : 0;
        by_tray += judge(trays) ? 1.0 / trials : 0;
      }
      row(std::to_string(jars) + " jars of 2", rho, by_jar, by_tray);
    }
  for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05})
    for (const auto& [few, many] : effort.full
                                       ? std::vector<std::array<int, 2>>{{2, 4}, {2, 6}, {3, 6}}
                                       : std::vector<std::array<int, 2>>{{2, 4}}) {
      Random random(++seed);
      double wrong = 0;
      for (int t = 0; t < trials; ++t) {
        std::array<std::vector<StandUnit>, 2> units;
        for (const std::size_t arm : {0u, 1u})
          for (const auto& tray : draw_stand(random, arm == 0 ? few : many, 50, 0.8, rho))
            units[arm].push_back({{tray}});
        wrong += claims(stand_claim(stand_evidence(units[0], units[1], prior))) ? 1.0 / trials : 0;
      }
      row(std::to_string(few) + " and " + std::to_string(many) + " trays", rho, wrong,
          std::nullopt);
    }
}

// Stand and days of one trial, judged as a grower is told of them.
void any_claim(Report& report, const Effort& effort) {
  report.heading("One trial: any false claim, on the stand or the days, when nothing differs");
  report.say(
      "p 0.8, median 8 days, trays of 50, looked at daily; both verdicts of each trial. Six");
  report.say("pairs are judged within blocks whose stands spread by 0.7 (logit).");
  report.head({"layout", "rho", "tau", "stand", "days", "either"});
  const int trials = effort.of(200, 2000);
  std::uint64_t seed = 6900;
  const auto prior = rho_from_beta(24);
  const auto looks = [] {
    std::vector<int> days;
    for (int day = 1; day <= last_day; ++day) days.push_back(day);
    return days;
  }();
  for (const bool blocks : {false, true})
    for (const double rho : effort.full ? std::vector{0.0, 0.05} : std::vector{0.05}) {
      const double tau = rho;
      Random random(++seed);
      double stand = 0, days = 0, either = 0;
      for (int t = 0; t < trials; ++t) {
        std::array<std::vector<StandUnit>, 2> units;
        std::array<std::vector<StratumValue>, 2> values;
        std::array<std::vector<std::optional<double>>, 2> means;
        std::array<std::vector<int>, 2> places;
        for (int i = 0; i < (blocks ? 6 : 4); ++i) {
          const double p = share_of(logit_of(0.8) + (blocks ? 0.7 * random.normal() : 0));
          for (const std::size_t arm : {0u, 1u}) {
            const auto sowing =
                draw_followed(random, 1, 50, {p, rho, 8, tau}, arm == 0, looks).front();
            const TrayCount tray{sowing.counts.back().up, 50};
            units[arm].push_back({{tray}});
            values[arm].push_back({static_cast<double>(tray.up) / 50, i});
            means[arm].push_back(mean_days_midway(course_of(sowing)));
            places[arm].push_back(i);
          }
        }
        const auto claim =
            stand_claim(blocks ? stand_evidence_within_blocks(values[0], values[1], 1)
                               : stand_evidence(units[0], units[1], prior));
        const auto difference =
            blocks ? compare_within_blocks(means[0], means[1], places[0], places[1])
                   : compare_values(means[0], means[1]);
        const auto speed = claim_of_days(difference);
        const bool on_stand = claims(claim);
        const bool on_days = speed == SpeedClaim::sooner || speed == SpeedClaim::later;
        stand += on_stand ? 1.0 / trials : 0;
        days += on_days ? 1.0 / trials : 0;
        either += on_stand || on_days ? 1.0 / trials : 0;
      }
      const std::string name = blocks ? "6 pairs in blocks" : "4 and 4 trays";
      report.row({name, Report::number(2, rho), Report::number(2, tau), Report::percent(stand),
                  Report::percent(days), Report::percent(either)});
      const std::string where = ", " + name + ", rho " + Report::number(2, rho);
      const double error = 1.2 * three_errors(0.06, trials);
      report.bar("one trial's claim on the stand" + where, stand, 0, 0.065 + error);
      report.bar("one trial's claim on the days" + where, days, 0, 0.065 + error);
    }
}

}  // namespace

void block_verdicts(Report& report, const Effort& effort) {
  errors(report, effort);
  powers(report, effort);
  jars_and_unequal(report, effort);
  any_claim(report, effort);
}

}  // namespace plumule::calibration
