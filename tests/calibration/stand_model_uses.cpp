// What the model of the stand is used for besides: claims after looking, planning, and a dose curve
// of trays that are worth their seeds.
#include <algorithm>
#include <cmath>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"
#include "stats/stand/claims.hpp"
#include "stats/stand/doses.hpp"
#include "stats/stand/plan.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

SupposedTrial two(std::vector<Spot> spots, double from, double to, double rho) {
  return {std::move(spots), {{from}, {0, logit_of(to) - logit_of(from)}, rho}};
}

// For a bar: what is barred, and in which cell.
std::string in_cell(const std::string& what, const std::string& layout, const std::string& stands,
                    double rho) {
  return what + ", " + layout + ", " + stands + ", rho " + Report::number(2, rho);
}

// Trays added a few at a time, judged each time, stopped at the first claim.
double wrong_after_looking(const SupposedTrial& whole, const std::vector<int>& looks, int trials,
                           std::uint64_t seed) {
  Random random(seed);
  int wrong = 0;
  for (int i = 0; i < trials; ++i) {
    const auto units = sow(random, whole);
    for (const int many : looks) {
      // The first so many of either treatment.
      int seen[2] = {0, 0};
      std::vector<PlacedUnit> some;
      for (const auto& unit : units)
        if (seen[unit.treatment]++ < many) some.push_back(unit);
      const auto one = contrast(StandModel(some, 2, rho_from_beta(24)), 1, 0);
      const auto code = claim_together({&one, 1}, Looking::after_looking).front().claim;
      if (code != StandClaim::more && code != StandClaim::fewer) continue;
      ++wrong;
      break;
    }
  }
  return static_cast<double>(wrong) / trials;
}

void after_looking(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: trays added, or the trial closed, after looking");
  report.say(
      "No difference; looked at with 2, 3, 4, 6 and 8 trays (or pairs) each and stopped at the");
  report.say(
      "first claim: the model's, at a Bayes factor of 20. Claimed at once: 6 and 6, 0.60 and");
  report.say("0.80.");
  report.head({"layout", "stands", "rho", "wrong at any look", "claims where they differ"});
  const int trials = effort.of(300, 3000);
  for (const bool pairs : effort.full ? std::vector<bool>{false, true} : std::vector<bool>{false})
    for (const int n : effort.full ? std::vector{25, 100} : std::vector{50})
      for (const double p : effort.full ? std::vector{0.6, 0.9} : std::vector{0.6})
        for (const double rho : effort.full ? std::vector{0.0, 0.1} : std::vector{0.1}) {
          auto trial = two(spots_of({{8, 8}}, n), p, p, rho);
          if (pairs) {
            trial.spots = spots_of(std::vector<Shares>(8, {1, 1}), n);
            trial.truth.stands.clear();
            for (int b = 0; b < 8; ++b)
              trial.truth.stands.push_back(share_of(logit_of(p) + (b % 2 == 0 ? 0.7 : -0.7)));
          }
          const double wrong = wrong_after_looking(trial, {2, 3, 4, 6, 8}, trials, ++seed);
          const auto differing = two(spots_of({{6, 6}}, n), 0.6, 0.8, rho);
          const double found = wrong_after_looking(differing, {6}, effort.of(100, 500), seed);
          const std::string name =
              pairs ? "pairs of " + std::to_string(n) : "trays of " + std::to_string(n);
          const std::string stands = pairs ? "about " + Report::number(2, p) : Report::number(2, p);
          report.row({name, stands, Report::number(2, rho), Report::percent(wrong),
                      pairs ? "" : Report::percent(found)});
          report.bar(in_cell("stand model wrong after looking", name, stands, rho), wrong, 0,
                     0.065 + (effort.full ? 0.009 : 0.05));
        }
}

// The quick way of planning against whole trials judged by the model.
void plans(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: planning, by the quick way and by whole trials");
  report.say(
      "Share of supposed trials told more, fewer or neither. Mean and largest distance over");
  report.say("stands 0.80-0.60, 0.90-0.80, 0.90-0.90, 0.95-0.95, 0.98-0.88, and 3, 6, 12 trays or");
  report.say("pairs; 1,000 whole trials a cell (a chance distance of some 1.5 points in each).");
  report.head({"layout", "seeds", "rho", "mean distance", "largest"});
  const auto prior = rho_from_beta(24);
  const int trials = effort.of(200, 1000);
  for (const bool pairs : {false, true})
    for (const std::int64_t n :
         effort.full ? std::vector<std::int64_t>{25, 100} : std::vector<std::int64_t>{25})
      for (const double rho : effort.full ? std::vector{0.01, 0.05} : std::vector{0.05}) {
        double sum = 0, largest = 0;
        int cells = 0;
        for (const auto& [first, second] :
             effort.full ? std::vector<std::pair<double, double>>{{0.8, 0.6},
                                                                  {0.9, 0.8},
                                                                  {0.9, 0.9},
                                                                  {0.95, 0.95},
                                                                  {0.98, 0.88}}
                         : std::vector<std::pair<double, double>>{{0.8, 0.6}})
          for (const int k : effort.full ? std::vector{3, 6, 12} : std::vector{6}) {
            const SupposedStand supposed{first, second, rho, k, n, pairs, 1};
            const double whole = outlook(supposed, prior, 0.1, trials, ++seed).told();
            const double apart =
                std::fabs(whole - quick_outlook(supposed, prior, 0.1, 4 * trials, seed).told());
            sum += apart;
            largest = std::max(largest, apart);
            ++cells;
          }
        const std::string name = pairs ? "pairs" : "trays";
        report.row({name, std::to_string(n), Report::number(2, rho), Report::percent(sum / cells),
                    Report::percent(largest)});
        report.bar("planning, " + name + " of " + std::to_string(n) + ", rho " +
                       Report::number(2, rho) + ", mean distance",
                   sum / cells, 0, effort.full ? 0.05 : 0.15);
      }
}

// Soaks of 0 to 32 hours, log odds 1.6 - 0.006 (dose - 14)^2, or flat.
struct DosesSeen {
  int named = 0, held = 0, wrongly = 0;

  void see(std::span<const DoseGroup> peaked, std::span<const DoseGroup> flat) {
    const auto best = best_dose(peaked);
    if (best.status == BestDoseStatus::peak) {
      ++named;
      const auto& set = best.interval;
      const bool inside = set.kind == FiellerKind::everything ||
                          (set.kind == FiellerKind::bounded ? set.lower <= 14 && 14 <= set.upper
                                                            : 14 <= set.lower || 14 >= set.upper);
      held += inside ? 1 : 0;
    }
    wrongly += best_dose(flat).status == BestDoseStatus::peak ? 1 : 0;
  }
};

void doses(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("Doses: the best one where trays count as the seeds they are worth");
  report.say(
      "Five soaks (0 to 32 hours), k sowings of each; peak at 14 hours, or no effect. As drawn,");
  report.say("and with each tray counted as what it is worth (trays).");
  report.head({"sowings", "k", "rho", "peak named", "trays", "set holds it", "trays",
               "named without any", "trays"});
  const auto prior = rho_from_beta(24);
  const int trials = effort.of(150, 2500);
  for (const bool unlike : effort.full ? std::vector<bool>{false, true} : std::vector<bool>{true})
    for (const int k : effort.full ? std::vector{2, 3, 4} : std::vector{3})
      for (const double rho : effort.full ? std::vector{0.0, 0.03, 0.1} : std::vector{0.1}) {
        Random random(++seed);
        DosesSeen drawn, trays;
        for (int i = 0; i < trials; ++i) {
          std::vector<DoseGroup> peaked, flat;
          for (const double dose : {0.0, 8.0, 16.0, 24.0, 32.0}) {
            const double p = share_of(1.6 - 0.006 * (dose - 14) * (dose - 14));
            for (int j = 0; j < k; ++j) {
              const int n = unlike ? (j % 2 == 0 ? 10 : 100) : 25;
              peaked.push_back({dose, Tally(random.beta_binomial(n, p, rho), n)});
              flat.push_back({dose, Tally(random.beta_binomial(n, 0.8, rho), n)});
            }
          }
          drawn.see(peaked, flat);
          trays.see(worth_of_trays(peaked, prior).sowings, worth_of_trays(flat, prior).sowings);
        }
        const auto share = [](int part, int whole) {
          return whole > 0 ? static_cast<double>(part) / whole : 0;
        };
        const std::string name = unlike ? "10 and 100" : "25";
        report.row({name, std::to_string(k), Report::number(2, rho),
                    Report::percent(share(drawn.named, trials)),
                    Report::percent(share(trays.named, trials)),
                    Report::percent(share(drawn.held, drawn.named)),
                    Report::percent(share(trays.held, trays.named)),
                    Report::percent(share(drawn.wrongly, trials)),
                    Report::percent(share(trays.wrongly, trials))});
        const std::string where =
            ", sowings of " + name + ", k " + std::to_string(k) + ", rho " + Report::number(2, rho);
        report.bar("best dose's set, trays" + where, share(trays.held, trays.named),
                   0.935 - (effort.full ? 0.012 : 0.07), 1);
        report.bar("best dose where there is none, trays" + where, share(trays.wrongly, trials), 0,
                   0.05 + (effort.full ? 0.009 : 0.05));
      }
}

}  // namespace

void stand_model_uses(Report& report, const Effort& effort) {
  std::uint64_t seed = 16'000;
  after_looking(report, effort, seed);
  plans(report, effort, seed);
  doses(report, effort, seed);
}

}  // namespace plumule::calibration
