// Verdicts on the stand when something differs: what the model finds, what it calls neither, and
// what no rule of one rho protects from.
#include <cmath>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Cell {
  std::string name;
  SupposedTrial trial;
  double least = 0;  // the power asked for; 0: none
};

// Eight pairs down a gradient, 15 points more on average.
SupposedTrial down_a_gradient() {
  SupposedTrial made{pairs_of(8, 50), {gradient(0.8, 0.3, 8), {0, 0}, 0.03}};
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

SupposedTrial six_pairs(double to, double rho) {  // odds of 2
  return {pairs_of(6, 50), {gradient(0.6, to, 6), {0, std::log(2.0)}, rho}};
}

std::string of_both(int k, int n) {
  return std::to_string(k) + " and " + std::to_string(k) + " of " + std::to_string(n);
}

std::vector<Cell> cells_of(const Effort& effort) {
  const auto sizes = spots_of_sizes(2, {10, 20, 50, 200});
  std::vector<Cell> cells{
      {"6 and 6 of 25, 0.60 and 0.80", two(spots_of({{6, 6}}, 25), 0.6, 0.8, 0.03), 0.75},
      {"2 and 2 of 50, 0.50 and 0.90", two(spots_of({{2, 2}}, 50), 0.5, 0.9, 0.03), 0.70},
      {"10, 20, 50, 200 of both, 0.70 and 0.90", two(sizes, 0.7, 0.9, 0), 0.85},
      {"8 pairs of 50, gradient, 15 points", down_a_gradient(), 0.70}};
  if (!effort.full) return cells;
  cells.push_back({"4+1 / 0+4 of 50, 0.60 and 0.90",
                   {spots_of({{4, 1}, {0, 4}}, 50), {{0.6, 0.6}, {0, shift(0.6, 0.9)}, 0.03}}});
  for (const double to : {0.6, 0.2})
    cells.push_back({"6 pairs of 50, 0.60 to " + Report::number(2, to) + " and twice the odds",
                     six_pairs(to, 0.02)});
  for (const auto& [from, to] : std::vector<std::pair<double, double>>{{0.6, 0.8}, {0.8, 0.9}})
    for (const int k : {2, 3, 4, 6, 8})
      for (const int n : {25, 50})
        if (k != 6 || n != 25 || from != 0.6)  // stands above
          cells.push_back(
              {of_both(k, n) + ", " + Report::number(2, from) + " and " + Report::number(2, to),
               two(spots_of({{k, k}}, n), from, to, 0.03)});
  return cells;
}

void powers(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("Verdict on the stand: what trials find when there is a difference");
  report.say("Closed as planned, drawn until the standard error of the claims is a point.");
  report.say(
      "\nThe rules before it found, of the first four: 73.3 % (6 and 6 of 25), 63.1 % (2 and 2 of");
  report.say("50), 81.7 % (10, 20, 50, 200) and 72.7 % (8 pairs down a gradient).");
  report.head({"layout and stands", "rho", "claims", "neither", "coverage"});
  const int shortly = 400;
  for (const auto& [name, trial, least] : cells_of(effort)) {
    const auto judged = judge(effort, trial, ++seed, {&Judged::claims}, shortly, power_error);
    report.row({name, Report::number(2, trial.truth.rho), Report::percent(judged.claims.share()),
                Report::percent(judged.neither.share()), Report::percent(judged.covered.share())});
    if (least > 0)
      report.bar("power on the stand, " + name, judged.claims.share(),
                 least - effort.rate_room(least, shortly, power_error), 1);
  }
}

void neither(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("Verdict on the stand: neither, though 10 points apart");
  report.say("The smallest difference worth having is 10 points: how often neither is said,");
  report.say("wrongly. Barred up to stands of 0.95. Last column: how often where nothing differs,");
  report.say("at the higher stand.");
  report.head({"layout", "stands", "rho", "neither", "coverage", "where alike"});
  constexpr double most = 0.05;
  const int shortly = 1000;
  for (const auto& [k, n] : effort.full
                                ? std::vector<std::pair<int, int>>{{4, 50}, {8, 50}, {6, 100}}
                                : std::vector<std::pair<int, int>>{{8, 50}})
    for (const double to : effort.full ? std::vector{0.8, 0.9, 0.95, 0.98} : std::vector{0.9})
      for (const double rho : effort.full ? std::vector{0.03, 0.1} : std::vector{0.03}) {
        const auto spots = spots_of({{k, k}}, n);
        const auto apart =
            judge(effort, two(spots, to - 0.1, to, rho), ++seed, {&Judged::neither}, shortly);
        const auto same =
            judge(effort, alike(spots, {to}, rho), ++seed, {&Judged::neither}, 300, power_error);
        const std::string stands = Report::number(2, to - 0.1) + " and " + Report::number(2, to);
        report.row({of_both(k, n), stands, Report::number(2, rho),
                    Report::percent(apart.neither.share()), Report::percent(apart.covered.share()),
                    Report::percent(same.neither.share())});
        if (to <= 0.95)
          report.bar("neither though 10 points apart, " + of_both(k, n) + ", " + stands + ", rho " +
                         Report::number(2, rho),
                     apart.neither.share(), 0, most + effort.rate_room(most, shortly));
      }
}

struct Spread {
  Rate wrong, warned, wrong_warned;
};

// Trays of one treatment alike, those of the other not: one rho for both is wrong.
void unequal_spread(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("Verdict on the stand: where one treatment's trays spread more");
  report.say("No difference, stand 0.8, trays of 50; rho 0 in one treatment and 0.1 in the other.");
  report.say("Nothing protects a claim from that; how many of the wrong claims carry the warning.");
  report.head({"trays of rho 0", "trays of rho 0.1", "wrong claims", "of these warned",
               "warned in all", "warned where both have rho 0.03"});
  const auto prior = rho_from_beta(24);
  for (const auto& [calm, wild] :
       effort.full ? std::vector<std::pair<int, int>>{{12, 3}, {8, 4}, {6, 6}, {4, 8}}
                   : std::vector<std::pair<int, int>>{{12, 3}}) {
    const auto one = [&, calm = calm, wild = wild](Random& random, Spread& made) {
      std::vector<PlacedUnit> units;
      for (int j = 0; j < wild; ++j)
        units.push_back({1, 0, random.beta_binomial(50, 0.8, 0.1), 50});
      for (int j = 0; j < calm; ++j) units.push_back({0, 0, random.beta_binomial(50, 0.8, 0), 50});
      const auto difference = contrast(StandModel(units, 2, prior), 1, 0);
      const bool claimed = is_claim(claim_together({&difference, 1}).front().claim);
      made.wrong.see(claimed);
      made.warned.see(difference.spreads_more.has_value());
      if (claimed) made.wrong_warned.see(difference.spreads_more.has_value());
    };
    const auto seen = drawn<Spread>(effort, 400, ++seed, one, {&Spread::wrong});
    const auto even = judge(effort, alike(spots_of({{wild, calm}}, 50), {0.8}, 0.03), ++seed,
                            {&Judged::warned}, 400, power_error);
    report.row({std::to_string(calm), std::to_string(wild), Report::percent(seen.wrong.share()),
                seen.wrong_warned.of > 0 ? Report::percent(seen.wrong_warned.share()) : "none",
                Report::percent(seen.warned.share()), Report::percent(even.warned.share())});
  }
}

}  // namespace

void stand_powers(Report& report, const Effort& effort) {
  std::uint64_t seed = 15'500;
  powers(report, effort, seed);
  neither(report, effort, seed);
  unequal_spread(report, effort, seed);
}

}  // namespace plumule::calibration
