// The model of the stand when something differs: what it finds, what it calls neither, and what no
// rule of one rho protects from.
#include <cmath>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"
#include "stats/stand/claims.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Cell {
  std::string name;
  SupposedTrial trial;
  double least = 0;  // the power asked for; 0: none
};

double shift(double from, double to) { return logit_of(to) - logit_of(from); }

SupposedTrial two(std::vector<Spot> spots, double from, double to, double rho) {
  return {std::move(spots), {{from}, {0, shift(from, to)}, rho}};
}

// Eight pairs down a gradient, 15 points more on average.
SupposedTrial down_a_gradient() {
  SupposedTrial made{spots_of(std::vector<Shares>(8, {1, 1}), 50), {{}, {0, 0}, 0.03}};
  for (int i = 0; i < 8; ++i)
    made.truth.stands.push_back(share_of(logit_of(0.8) + shift(0.8, 0.3) * i / 7));
  double low = 0, high = 5;
  for (int turn = 0; turn < 60; ++turn) {
    const double middle = (low + high) / 2;
    double rise = 0;
    for (const double p : made.truth.stands) rise += (share_of(logit_of(p) + middle) - p) / 8;
    (rise < 0.15 ? low : high) = middle;
  }
  made.truth.shifts[1] = low;
  return made;
}

// For a bar: what is barred, and in which cell.
std::string in_cell(const std::string& what, const std::string& layout, const std::string& stands,
                    double rho) {
  return what + ", " + layout + ", " + stands + ", rho " + Report::number(2, rho);
}

void powers(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: claims when there is a difference");
  report.say("Before: as above. Drawn until the standard error is a point at most.");
  report.head({"layout and stands", "rho", "claims", "before", "coverage"});
  const auto sizes = spots_of_sizes(2, {10, 20, 50, 200});
  std::vector<Cell> cells{
      {"6 and 6 of 25, 0.60 and 0.80", two(spots_of({{6, 6}}, 25), 0.6, 0.8, 0.03), 0.75},
      {"2 and 2 of 50, 0.50 and 0.90", two(spots_of({{2, 2}}, 50), 0.5, 0.9, 0.03), 0.70},
      {"10, 20, 50, 200 of both, 0.70 and 0.90", two(sizes, 0.7, 0.9, 0), 0.85},
      {"8 pairs of 50, gradient, 15 points", down_a_gradient(), 0.70}};
  if (effort.full) {
    cells.push_back({"4 and 4 of 25, 0.60 and 0.80", two(spots_of({{4, 4}}, 25), 0.6, 0.8, 0.03)});
    cells.push_back({"3 and 3 of 50, 0.70 and 0.90", two(spots_of({{3, 3}}, 50), 0.7, 0.9, 0.03)});
    cells.push_back({"8 and 8 of 50, 0.80 and 0.90", two(spots_of({{8, 8}}, 50), 0.8, 0.9, 0.03)});
    cells.push_back({"4+1 / 0+4 of 50, 0.60 and 0.90",
                     {spots_of({{4, 1}, {0, 4}}, 50), {{0.6, 0.6}, {0, shift(0.6, 0.9)}, 0.03}}});
  }
  for (const auto& [name, trial, least] : cells) {
    const int trials = effort.of(400, 2500);
    const auto judged = judge(trial, 0, trials, ++seed);
    const auto before = judge_before(trial, effort.of(200, 1500), seed);
    report.row({name, Report::number(2, trial.truth.rho), Report::percent(judged.claims),
                Report::percent(before.claims), Report::percent(judged.covered)});
    if (least > 0)
      report.bar("stand model's power, " + name, judged.claims, least - (effort.full ? 0.02 : 0.08),
                 1);  // two errors, three and a half
  }
}

void neither(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: neither, though 10 points apart");
  report.say(
      "The smallest difference worth having is 10 points: how often neither is said, wrongly.");
  report.say("Barred up to stands of 0.95. Last column: how often where nothing differs, at the");
  report.say("higher stand.");
  report.head({"layout", "stands", "rho", "neither", "before", "coverage", "where alike"});
  struct Layout {
    int k, n;
  };
  for (const auto& [k, n] :
       effort.full ? std::vector<Layout>{{4, 50}, {8, 50}, {6, 100}} : std::vector<Layout>{{8, 50}})
    for (const double to : effort.full ? std::vector{0.8, 0.9, 0.95, 0.98} : std::vector{0.9})
      for (const double rho : effort.full ? std::vector{0.03, 0.1} : std::vector{0.03}) {
        const auto trial = two(spots_of({{k, k}}, n), to - 0.1, to, rho);
        const auto judged = judge(trial, effort.full ? 0.003 : 1, effort.of(1000, 8000), ++seed);
        const auto before = judge_before(trial, effort.of(100, 1000), seed);
        const auto same = judge(two(spots_of({{k, k}}, n), to, to, rho), 1, 1000, seed + 500'000);
        const std::string name =
            std::to_string(k) + " and " + std::to_string(k) + " of " + std::to_string(n);
        const std::string stands = Report::number(2, to - 0.1) + " and " + Report::number(2, to);
        report.row({name, stands, Report::number(2, rho), Report::percent(judged.neither),
                    Report::percent(before.neither), Report::percent(judged.covered),
                    Report::percent(same.neither)});
        if (to <= 0.95)
          report.bar(in_cell("stand model's neither though 10 apart", name, stands, rho),
                     judged.neither, 0, 0.05 + (effort.full ? 0.006 : 0.024));
      }
}

// Trays of one treatment alike, those of the other not: one rho for both is wrong.
void unequal_spread(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: where one treatment's trays spread more");
  report.say("No difference, stand 0.8, trays of 50; rho 0 in one treatment and 0.1 in the other.");
  report.say("Nothing protects a claim from that; how many of the wrong claims carry the warning.");
  report.head({"trays of rho 0", "trays of rho 0.1", "wrong claims", "of these warned",
               "warned in all", "warned where both have rho 0.03"});
  struct Layout {
    int calm, wild;
  };
  for (const auto& [calm, wild] : effort.full ? std::vector<Layout>{{12, 3}, {8, 4}, {6, 6}, {4, 8}}
                                              : std::vector<Layout>{{12, 3}}) {
    const int trials = effort.of(400, 4000);
    Random random(++seed);
    int wrong = 0, wrong_warned = 0, warned = 0;
    for (int i = 0; i < trials; ++i) {
      std::vector<PlacedUnit> units;
      for (int j = 0; j < wild; ++j)
        units.push_back({1, 0, random.beta_binomial(50, 0.8, 0.1), 50});
      for (int j = 0; j < calm; ++j) units.push_back({0, 0, random.beta_binomial(50, 0.8, 0), 50});
      const auto one = contrast(StandModel(units, 2, rho_from_beta(24)), 1, 0);
      const auto code = claim_together({&one, 1}).front().claim;
      const bool claimed = code == StandClaim::more || code == StandClaim::fewer;
      wrong += claimed ? 1 : 0;
      warned += one.spreads_more ? 1 : 0;
      wrong_warned += claimed && one.spreads_more ? 1 : 0;
    }
    const auto even =
        judge(two(spots_of({{wild, calm}}, 50), 0.8, 0.8, 0.03), 1, effort.of(500, 2000), seed);
    report.row({std::to_string(calm), std::to_string(wild),
                Report::percent(static_cast<double>(wrong) / trials),
                wrong > 0 ? Report::percent(static_cast<double>(wrong_warned) / wrong) : "none",
                Report::percent(static_cast<double>(warned) / trials),
                Report::percent(even.warned)});
  }
}

}  // namespace

void stand_model_powers(Report& report, const Effort& effort) {
  std::uint64_t seed = 15'000;
  powers(report, effort, seed);
  neither(report, effort, seed);
  unequal_spread(report, effort, seed);
}

}  // namespace plumule::calibration
