// The model of the stand when nothing differs: wrong claims, of one difference and of several
// together, and coverage; beside it the rules that ignore blocks or judge within them.
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"

namespace plumule::calibration {
namespace {

using stats::Random;

constexpr double most_wrong = 0.065, rate_error = 0.003;

struct Cell {
  std::string name;
  SupposedTrial trial;
};

std::string rho_name(double rho) { return rho < 0 ? "from its prior" : Report::number(2, rho); }

// How far and how long cells are drawn.
struct Pains {
  double error;
  int most;
};
Pains pains(const Effort& effort) { return {effort.full ? rate_error : 1, effort.of(1000, 8000)}; }

// A bar is met at the bar and two standard errors, which are drawn down to 0.3 points; in the short
// form, where they are some 0.8, at three and a half.
double allowed(const Effort& effort) { return effort.full ? 2 * rate_error : 0.027; }

void bar_wrong(Report& report, const Effort& effort, const std::string& what,
               const Judged& judged) {
  report.bar(what, judged.false_claims, 0, most_wrong + allowed(effort));
}

SupposedTrial alike(std::vector<Spot> spots, std::vector<double> stands, double rho,
                    int treatments = 2) {
  return {std::move(spots),
          {std::move(stands), std::vector<double>(static_cast<std::size_t>(treatments), 0.0), rho}};
}

// Evenly down the logit.
std::vector<double> gradient(double from, double to, int steps) {
  std::vector<double> made;
  for (int i = 0; i < steps; ++i)
    made.push_back(
        share_of(logit_of(from) + (logit_of(to) - logit_of(from)) * i / std::max(1, steps - 1)));
  return made;
}

std::vector<Cell> one_stratum(const Effort& effort, double rho) {
  std::vector<Cell> cells;
  for (const int k : effort.full ? std::vector{2, 3, 4, 8} : std::vector{4})
    for (const int n : effort.full ? std::vector{10, 25, 100} : std::vector{25})
      for (const double p : effort.full ? std::vector{0.6, 0.9} : std::vector{0.6})
        cells.push_back({std::to_string(k) + " and " + std::to_string(k) + " of " +
                             std::to_string(n) + ", stand " + Report::number(2, p),
                         alike(spots_of({{k, k}}, n), {p}, rho)});
  return cells;
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
                                       {"5+1 / 1+2 / 0+2", {{5, 1}, {1, 2}, {0, 2}}}};
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
  for (const int blocks : effort.full ? std::vector{4, 8} : std::vector{6})
    for (const int n : effort.full ? std::vector{25, 100} : std::vector{50})
      for (const double to : effort.full ? std::vector{0.9, 0.43} : std::vector{0.43})
        cells.push_back(
            {std::to_string(blocks) + " pairs of " + std::to_string(n) + ", stands 0.90 to " +
                 Report::number(2, to),
             alike(spots_of(std::vector<Shares>(static_cast<std::size_t>(blocks), {1, 1}), n),
                   gradient(0.9, to, blocks), rho)});
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
  }
  return cells;
}

// One row for each cell, wrong claims barred.
void table(Report& report, const Effort& effort, const std::string& kind,
           std::vector<Cell> (*cells)(const Effort&, double), std::uint64_t& seed) {
  report.head({kind, "rho", "wrong claims", "before", "coverage", "before", "own ranges"});
  const auto [error, most] = pains(effort);
  for (const double rho : effort.full ? std::vector{0.03, 0.1} : std::vector{0.1})
    for (const auto& [name, trial] : cells(effort, rho)) {
      const auto judged = judge(trial, error, most, ++seed);
      const auto before = judge_before(trial, effort.of(200, 2000), seed);
      report.row({name, rho_name(rho), Report::percent(judged.false_claims),
                  Report::percent(before.claims), Report::percent(judged.covered),
                  Report::percent(before.covered), Report::percent(judged.ranges)});
      bar_wrong(report, effort, "stand model wrong, " + name + ", rho " + rho_name(rho), judged);
    }
}

// Layouts drawn anew for each trial: treatments, strata, units and sizes.
SupposedTrial any_layout(Random& random, bool unlike, double rho) {
  SupposedTrial made;
  const int treatments = 2 + static_cast<int>(random.below(4));
  const int strata = 1 + static_cast<int>(random.below(5));
  constexpr int sizes[] = {10, 20, 30, 50, 100, 200};
  const int usual = sizes[random.below(6)];
  std::vector<int> units(static_cast<std::size_t>(treatments));
  while (std::any_of(units.begin(), units.end(), [](int count) { return count < 2; })) {
    made.spots.clear();
    std::fill(units.begin(), units.end(), 0);
    for (int t = 0; t < treatments; ++t)
      for (int b = 0; b < strata; ++b)
        for (auto some = random.below(strata == 1 ? 8 : 4); some > 0; --some) {
          made.spots.push_back({t, b, unlike ? sizes[random.below(6)] : usual});
          ++units[static_cast<std::size_t>(t)];
        }
  }
  const double centre = logit_of(0.3 + 0.65 * random.unit()), spread = 1.5 * random.unit();
  for (int b = 0; b < strata; ++b)
    made.truth.stands.push_back(
        std::clamp(share_of(centre + spread * random.normal()), 0.02, 0.98));
  made.truth.shifts.assign(static_cast<std::size_t>(treatments), 0);
  made.truth.rho = rho;
  return made;
}

void random_layouts(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.say(
      "\nLayouts drawn at random for each trial: two to five treatments, one to five strata,");
  report.say(
      "0 to 7 units of a treatment in one (0 to 3 where there are several), stands of strata");
  report.say("spread by up to 1.5 of the logit about 0.30 to 0.95. Nothing was chosen by these.");
  report.head({"sizes", "rho", "any wrong claim", "coverage", "own ranges"});
  const auto [error, most] = pains(effort);
  for (const bool unlike : {false, true})
    for (const double rho : effort.full ? std::vector{0.0, 0.03, 0.1, -1.0} : std::vector{-1.0}) {
      const auto judged = judge([&](Random& random) { return any_layout(random, unlike, rho); },
                                error, most, ++seed);
      const std::string name = unlike ? "10 to 200, unlike" : "10 to 200, alike";
      report.row({name, rho_name(rho), Report::percent(judged.false_claims),
                  Report::percent(judged.covered), Report::percent(judged.ranges)});
      bar_wrong(report, effort,
                "stand model wrong, random layouts, " + name + ", rho " + rho_name(rho), judged);
      if (rho < 0)
        report.bar("stand model's coverage, random layouts, " + name, judged.covered,
                   0.935 - allowed(effort), 1);
    }
}

void families(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: several treatments against one control");
  report.say("None differs; any false claim among them (Holm), and coverage of their differences.");
  report.say("Stand 0.8, or four blocks from 0.90 to 0.60.");
  report.head({"treatments", "layout", "rho", "any wrong claim", "coverage"});
  const auto [error, most] = pains(effort);
  for (const int treatments : effort.full ? std::vector{2, 3, 4, 5} : std::vector{4})
    for (const bool blocks :
         effort.full ? std::vector<bool>{false, true} : std::vector<bool>{false})
      for (const double rho : effort.full ? std::vector{0.03, 0.1} : std::vector{0.1}) {
        std::vector<Spot> spots;
        for (int t = 0; t < treatments; ++t)
          for (int i = 0; i < 4; ++i) spots.push_back({t, blocks ? i : 0, 30});
        const auto trial =
            alike(spots, blocks ? gradient(0.9, 0.6, 4) : std::vector{0.8}, rho, treatments);
        const auto judged = judge(trial, error, most, ++seed);
        const std::string name = blocks ? "4 blocks of 30" : "4 trays of 30";
        report.row({std::to_string(treatments), name, rho_name(rho),
                    Report::percent(judged.false_claims), Report::percent(judged.covered)});
        bar_wrong(report, effort,
                  "stand model wrong, family of " + std::to_string(treatments) + ", " + name +
                      ", rho " + rho_name(rho),
                  judged);
      }
}

void coverage(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The model of the stand: coverage where trays vary as the prior says");
  report.say(
      "Stand of the control uniform on 0.10 to 0.97, odds of the other spread by 0.7 (logit)");
  report.say("about it, both anew for each trial; rho from Beta(1, 24).");
  report.head({"layout", "df", "coverage", "own ranges"});
  struct Layout {
    std::string name;
    std::vector<Spot> spots;
    int strata;
    int df;
    bool even;
  };
  std::vector<Layout> layouts;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6, 8, 12} : std::vector{6})
    for (const int n : effort.full ? std::vector{10, 25, 100} : std::vector{25})
      layouts.push_back(
          {std::to_string(k) + " and " + std::to_string(k) + " of " + std::to_string(n),
           spots_of({{k, k}}, n), 1, 2 * k - 2, n >= 25});
  if (effort.full) {
    layouts.push_back({"8 pairs of 50", spots_of(std::vector<Shares>(8, {1, 1}), 50), 8, 7, true});
    layouts.push_back(
        {"12 pairs of 50", spots_of(std::vector<Shares>(12, {1, 1}), 50), 12, 11, true});
    layouts.push_back({"4+1 / 0+4 of 50", spots_of({{4, 1}, {0, 4}}, 50), 2, 6, false});
    layouts.push_back(
        {"10, 20, 50, 200 of both", spots_of_sizes(2, {10, 20, 50, 200}), 1, 6, false});
  }
  const auto [error, most] = pains(effort);
  for (const auto& layout : layouts) {
    const auto make = [&](Random& random) {
      SupposedTrial trial = alike(layout.spots, {}, -1);
      const double base = logit_of(0.1 + 0.87 * random.unit());
      for (int b = 0; b < layout.strata; ++b)
        trial.truth.stands.push_back(
            layout.strata == 1 ? share_of(base)
                               : std::clamp(share_of(base + 0.5 * random.normal()), 0.05, 0.98));
      trial.truth.shifts[1] = 0.7 * random.normal();
      return trial;
    };
    const auto judged = judge(make, error, most, ++seed);
    report.row({layout.name, std::to_string(layout.df), Report::percent(judged.covered),
                Report::percent(judged.ranges)});
    const double room = allowed(effort);
    report.bar("stand model's coverage, " + layout.name, judged.covered, 0.935 - room,
               layout.even && layout.df >= 10 ? 0.97 + room : 1);
  }
}

}  // namespace

void stand_models(Report& report, const Effort& effort) {
  report.heading("The model of the stand: wrong claims when there is no difference");
  report.say("More or fewer, wrongly; coverage of the 95 % range of the difference and of the");
  report.say("treatments' own. Before: by the t within blocks where it has 5 degrees of freedom,");
  report.say(
      "else by the pooled posterior and t; its range is the posterior's (1,000 trials). n+m: trays "
      "of the");
  report.say(
      "two treatments in a block. Each cell is drawn until its standard errors are 0.3 points;");
  report.say("a bar is met at the bar and two of them; none is drawn again.");
  std::uint64_t seed = 14'000;
  table(report, effort, "one stratum", one_stratum, seed);
  table(report, effort, "blocks with uneven shares", uneven_shares, seed);
  table(report, effort, "pairs in blocks", even_blocks, seed);
  table(report, effort, "trays of unlike size", unlike_trays, seed);
  random_layouts(report, effort, seed);
  families(report, effort, seed);
  coverage(report, effort, seed);
}

}  // namespace plumule::calibration
