// Verdicts on the stand when nothing differs: how often more or fewer is said wrongly, in layouts
// even and uneven, down gradients, of unlike trays, in jars, and of what stands after losses.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr double most_wrong = 0.065;
constexpr int shortly = 1000;

struct Cell {
  std::string name;
  SupposedTrial trial;
};

void bar_wrong(Report& report, const Effort& effort, const std::string& where, const Rate& wrong) {
  report.bar("wrong claims on the stand, " + where, wrong.share(), 0,
             most_wrong + effort.rate_room(most_wrong, shortly));
}

// One stratum, even: many cells, the highest of each row barred.
void even(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.say("\nOne stratum, k and k trays: highest (mean) over trays of 10, 25, 100 and stands");
  report.say("0.30, 0.60, 0.80, 0.95, 0.99.");
  report.head({"k", "rho", "wrong claims"});
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{4})
    for (const double rho :
         effort.full ? std::vector{0.0, 0.02, 0.05, 0.1, -1.0} : std::vector{0.1}) {
      Rate worst;
      double sum = 0;
      int cells = 0;
      for (const int n : effort.full ? std::vector{10, 25, 100} : std::vector{25})
        for (const double p :
             effort.full ? std::vector{0.3, 0.6, 0.8, 0.95, 0.99} : std::vector{0.6, 0.95}) {
          const auto wrong = judge(effort, alike(spots_of({{k, k}}, n), {p}, rho), ++seed,
                                   {&Judged::false_claims}, shortly)
                                 .false_claims;
          if (wrong.share() >= worst.share()) worst = wrong;
          sum += wrong.share();
          ++cells;
        }
      report.row({std::to_string(k), rho_name(rho),
                  Report::percent(worst.share()) + " (" + Report::percent(sum / cells) + ")"});
      bar_wrong(report, effort,
                "k " + std::to_string(k) + ", rho " + rho_name(rho) + ", worst cell", worst);
    }
}

std::vector<Cell> uneven_shares(const Effort& effort, double rho) {
  struct Layout {
    std::string name;
    std::vector<Shares> shares;
  };
  const std::vector<Layout> layouts = {{"4+1 / 0+4", {{4, 1}, {0, 4}}},
                                       {"3+1 / 0+3", {{3, 1}, {0, 3}}},
                                       {"3+1 / 0+2", {{3, 1}, {0, 2}}},
                                       {"2+1 / 1+2", {{2, 1}, {1, 2}}},
                                       {"5+1 / 1+2 / 0+2", {{5, 1}, {1, 2}, {0, 2}}},
                                       {"3+0 / 1+1 / 0+3", {{3, 0}, {1, 1}, {0, 3}}}};
  std::vector<Cell> cells;
  for (std::size_t i = 0; i < (effort.full ? layouts.size() : 1); ++i)
    for (const auto& [from, to] :
         effort.full ? std::vector<std::pair<double, double>>{{0.6, 0.6}, {0.9, 0.6}, {0.43, 0.9}}
                     : std::vector<std::pair<double, double>>{{0.9, 0.6}})
      cells.push_back({layouts[i].name + " of 50, stands " + Report::number(2, from) + " to " +
                           Report::number(2, to),
                       alike(spots_of(layouts[i].shares, 50),
                             gradient(from, to, static_cast<int>(layouts[i].shares.size())), rho)});
  return cells;
}

std::vector<Cell> even_blocks(const Effort& effort, double rho) {
  std::vector<Cell> cells;
  for (const int blocks : effort.full ? std::vector{4, 6, 8} : std::vector{6})
    for (const int n : effort.full ? std::vector{10, 25, 100} : std::vector{50})
      for (const double to : effort.full ? std::vector{0.9, 0.43} : std::vector{0.43})
        cells.push_back({std::to_string(blocks) + " pairs of " + std::to_string(n) +
                             ", stands 0.90 to " + Report::number(2, to),
                         alike(pairs_of(blocks, n), gradient(0.9, to, blocks), rho)});
  if (effort.full)
    for (const double to : {0.9, 0.43})
      cells.push_back({"2 blocks of 2 and 2 of 25, stands 0.90 to " + Report::number(2, to),
                       alike(spots_of({{2, 2}, {2, 2}}, 25), gradient(0.9, to, 2), rho)});
  return cells;
}

std::vector<Cell> unlike_trays(const Effort& effort, double rho) {
  std::vector<Cell> cells;
  for (const double p : effort.full ? std::vector{0.7, 0.95} : std::vector{0.95}) {
    const std::string stand = ", stand " + Report::number(2, p);
    cells.push_back({"10, 20, 50 and 200 of both" + stand,
                     alike(spots_of_sizes(2, {10, 20, 50, 200}), {p}, rho)});
    if (!effort.full) continue;
    std::vector<Spot> few;
    for (int i = 0; i < 12; ++i) few.push_back({1, 0, 10});
    for (int i = 0; i < 3; ++i) few.push_back({0, 0, 200});
    cells.push_back({"12 of 10 against 3 of 200" + stand, alike(few, {p}, rho)});
    cells.push_back(
        {"100, 10, 10, 10 of both" + stand, alike(spots_of_sizes(2, {100, 10, 10, 10}), {p}, rho)});
    for (const auto& [some, many] : std::vector<Shares>{{2, 4}, {2, 6}, {3, 6}})
      cells.push_back({std::to_string(some) + " against " + std::to_string(many) + " of 50" + stand,
                       alike(spots_of({{some, many}}, 50), {p}, rho)});
  }
  return cells;
}

// What stands, alike in both treatments though they came up and were lost alike or not.
std::vector<Cell> losses(const Effort& effort, double rho) {
  struct Lost {
    std::string name;
    double up, lost, other_up, other_lost;
    double rho;  // of losses within a tray
  };
  std::vector<Lost> kinds = {
      {"0.93 up and 0.29 lost, against 0.66 up", 0.93, 0.29032258, 0.66, 0, 0},
      {"0.90 up and 0.30 lost of both", 0.9, 0.3, 0.9, 0.3, 0.05},
      {"0.90 up and 0.70 lost of both", 0.9, 0.7, 0.9, 0.7, 0.05}};
  if (!effort.full) kinds.resize(1);
  std::vector<Cell> cells;
  for (const auto& kind : kinds)
    for (const int k : effort.full ? std::vector{3, 6} : std::vector{4}) {
      SupposedTrial trial = two(spots_of({{k, k}}, 30), kind.other_up, kind.up, rho);
      trial.truth.lost = {kind.other_lost, kind.lost};
      trial.truth.lost_rho = kind.rho;
      cells.push_back(
          {kind.name + ", " + std::to_string(k) + " and " + std::to_string(k) + " of 30", trial});
    }
  return cells;
}

// One row for each cell, wrong claims barred.
void table(Report& report, const Effort& effort, const std::string& kind,
           std::vector<Cell> (*cells)(const Effort&, double), std::uint64_t& seed) {
  report.head({kind, "rho", "wrong claims", "coverage", "own ranges"});
  for (const double rho : effort.full ? std::vector{0.03, 0.1} : std::vector{0.1})
    for (const auto& [name, trial] : cells(effort, rho)) {
      const auto judged =
          judge(effort, trial, ++seed, {&Judged::false_claims, &Judged::covered}, shortly);
      report.row({name, rho_name(rho), Report::percent(judged.false_claims.share()),
                  Report::percent(judged.covered.share()), Report::percent(judged.ranges.share())});
      bar_wrong(report, effort, name + ", rho " + rho_name(rho), judged.false_claims);
    }
}

// No block holds both treatments.
void none_shared(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.head({"no block shared", "stands", "not told apart", "any claim"});
  for (const auto& [name, shares] : std::vector<std::pair<std::string, std::vector<Shares>>>{
           {"4+0 / 0+4", {{4, 0}, {0, 4}}}, {"2+0 / 0+2 / 3+0", {{2, 0}, {0, 2}, {3, 0}}}}) {
    auto trial =
        alike(spots_of(shares, 50), gradient(0.9, 0.43, static_cast<int>(shares.size())), 0.03);
    const auto judged = judge(effort, trial, ++seed, {&Judged::claims}, 300);
    report.row({name + " of 50", "0.90 to 0.43", Report::percent(judged.not_told.share()),
                Report::percent(judged.claims.share())});
    report.bar("not told apart, " + name, judged.not_told.share(), 1, 1);
    report.bar("claims where nothing can be told apart, " + name, judged.claims.share(), 0, 0);
  }
}

struct Jars {
  Rate by_jar, by_tray;
};

// Sowings of a treatment share jars, which differ.
void jars(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.say(
      "\nJars of two trays of 25, stand 0.80; rho within trays and again between the jars of a");
  report.say("treatment. By the jar, as it is judged, and as if each tray were treated by itself");
  report.say("(printed: what not recording the jar does).");
  report.head({"jars a treatment", "rho", "by the jar", "by the tray"});
  const auto prior = rho_from_beta(24);
  for (const double rho : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05})
    for (const int many : effort.full ? std::vector{2, 3, 4} : std::vector{2}) {
      const auto one = [&](Random& random, Jars& made) {
        std::vector<PlacedUnit> by_jar, by_tray;
        for (int jar = 0; jar < 2 * many; ++jar) {
          const double odds = 1 / std::max(rho, 1e-9) - 1;
          const double p =
              rho > 0 ? std::clamp(random.beta(0.8 * odds, 0.2 * odds), 1e-9, 1 - 1e-9) : 0.8;
          PlacedUnit whole{jar % 2, 0, 0, 50};
          for (int i = 0; i < 2; ++i) {
            by_tray.push_back({jar % 2, 0, random.beta_binomial(25, p, rho), 25});
            whole.up += by_tray.back().up;
          }
          by_jar.push_back(whole);
        }
        const auto claims = [&](const std::vector<PlacedUnit>& units) {
          const auto difference = contrast(StandModel(units, 2, prior), 1, 0);
          return is_claim(claim_together({&difference, 1}).front().claim);
        };
        made.by_jar.see(claims(by_jar));
        made.by_tray.see(claims(by_tray));
      };
      const auto seen = drawn<Jars>(effort, shortly, ++seed, one, {&Jars::by_jar});
      report.row({std::to_string(many), rho_name(rho), Report::percent(seen.by_jar.share()),
                  Report::percent(seen.by_tray.share())});
      bar_wrong(report, effort, std::to_string(many) + " jars of 2, rho " + rho_name(rho),
                seen.by_jar);
    }
}

}  // namespace

void stand_errors(Report& report, const Effort& effort) {
  report.heading("Verdict on the stand: wrong claims when nothing differs");
  report.say("More or fewer, wrongly, by the model of the stand, closed as planned, prior Beta(1,");
  report.say("24); coverage of the 95 % range of the difference and of the treatments' own. n+m:");
  report.say(
      "trays of the two treatments in a block. Each cell is drawn until the standard errors");
  report.say("of these are 0.3 points.");
  report.say(
      "\nThe rules in force before it judged within blocks by a paired t where that had 5 degrees");
  report.say(
      "of freedom, and otherwise by the pooled posterior and the pooled t, which ignore blocks.");
  report.say(
      "Run beside it on the same cells (2,000 trials each) they were wrong in 3.6 to 82.3 % in");
  report.say("4+1 / 0+4, in up to 37.8 % in 3+1 / 0+3 and in up to 15.7 % in 3+1 / 0+2; in even");
  report.say("layouts as seldom as the model.");
  std::uint64_t seed = 14'000;
  even(report, effort, seed);
  table(report, effort, "blocks with uneven shares", uneven_shares, seed);
  none_shared(report, effort, seed);
  table(report, effort, "even blocks", even_blocks, seed);
  table(report, effort, "unlike trays, unequal numbers", unlike_trays, seed);
  table(report, effort, "what stands, after losses", losses, seed);
  jars(report, effort, seed);
}

}  // namespace plumule::calibration
