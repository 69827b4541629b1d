// Intervals and tests that take seeds as independent, where their promise holds (rho 0): coverage
// and error by adding up every count; and how often trays of one lot range wider than is tolerated.
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "parts.hpp"
#include "stats/proportions/fisher.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/proportions/replicate_range.hpp"
#include "stats/proportions/two_proportions.hpp"
#include "stats/proportions/unconditional_tests.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

std::vector<double> binomial(int n, double p) {
  std::vector<double> made;
  for (int x = 0; x <= n; ++x)
    made.push_back(std::exp(std::lgamma(n + 1.0) - std::lgamma(x + 1.0) - std::lgamma(n - x + 1.0) +
                            x * std::log(p) + (n - x) * std::log1p(-p)));
  return made;
}

struct Cover {
  double average = 0, lowest = 1;
  std::string shown() const { return Report::percent(average) + " / " + Report::percent(lowest); }
};

// Over p from 0.05 to 0.99 in steps of 0.01.
template <class Make>
Cover cover(int n, Make make) {
  std::vector<Interval> intervals;
  for (int x = 0; x <= n; ++x) intervals.push_back(make(Tally(x, n)));
  Cover made;
  for (int c = 5; c <= 99; ++c) {
    const double p = c / 100.0;
    const auto chance = binomial(n, p);
    double held = 0;
    for (std::size_t x = 0; x < chance.size(); ++x)
      if (intervals[x].lower <= p && p <= intervals[x].upper) held += chance[x];
    made.average += held / 95;
    made.lowest = std::min(made.lowest, held);
  }
  return made;
}

void one_percentage(Report& report, const Effort& effort) {
  report.heading("One percentage, seeds independent: 95 % intervals");
  report.say("Average / lowest exact coverage over p 0.05 to 0.99 (step 0.01); the last four are");
  report.say("one-sided lower limits. Clopper-Pearson alone promises every p; of the others the");
  report.say("average is barred.");
  report.head({"n", "Wilson", "Wilson, corrected", "Clopper-Pearson", "Jeffreys", "Wilson, lower",
               "Wilson, corrected, lower", "Clopper-Pearson, lower", "Jeffreys, lower"});
  for (const int n : effort.full ? std::vector{10, 25, 50, 100, 200, 400} : std::vector{25}) {
    std::vector<std::string> cells{std::to_string(n)};
    for (const Side side : {Side::both, Side::lower}) {
      const std::array<Cover, 4> covers = {
          cover(n, [side](Tally t) { return wilson(t, 0.95, side); }),
          cover(n, [side](Tally t) { return wilson(t, 0.95, side, true); }),
          cover(n, [side](Tally t) { return clopper_pearson(t, 0.95, side); }),
          cover(n, [side](Tally t) { return jeffreys(t, 0.95, side); })};
      for (const auto& c : covers) cells.push_back(c.shown());
      const std::string where =
          std::string(side == Side::both ? " two-sided" : " lower") + ", n " + std::to_string(n);
      report.bar("Clopper-Pearson" + where, covers[2].lowest, 0.95, 1);
      if (side == Side::lower) continue;
      report.bar("Wilson" + where, covers[0].average, 0.94, 0.965);
      report.bar("Jeffreys" + where, covers[3].average, 0.94, 0.965);
    }
    report.row(cells);
  }
}

constexpr std::array<std::pair<double, double>, 6> truths = {
    {{0.3, 0.3}, {0.6, 0.6}, {0.9, 0.9}, {0.8, 0.6}, {0.95, 0.85}, {0.5, 0.2}}};

void two_percentages(Report& report, const Effort& effort) {
  report.heading("Two percentages, seeds independent: 95 % intervals");
  report.say("Mean (lowest) exact coverage over the six pairs of p of the section on differences.");
  report.head({"n each", "difference, Newcombe", "with correction", "Miettinen-Nurminen",
               "ratio, Newcombe", "Miettinen-Nurminen", "odds ratio, Newcombe",
               "Miettinen-Nurminen"});
  constexpr std::array names = {
      "difference by Newcombe",           "difference by Newcombe corrected",
      "difference by Miettinen-Nurminen", "ratio by Newcombe",
      "ratio by Miettinen-Nurminen",      "odds ratio by Newcombe",
      "odds ratio by Miettinen-Nurminen"};
  for (const int n : effort.full ? std::vector{10, 25, 50, 100} : std::vector{10}) {
    std::array<std::array<double, truths.size()>, names.size()> held{};
    std::array<std::vector<double>, truths.size()> first, second;
    for (std::size_t i = 0; i < truths.size(); ++i) {
      first[i] = binomial(n, truths[i].first);
      second[i] = binomial(n, truths[i].second);
    }
    for (int x = 0; x <= n; ++x)
      for (int y = 0; y <= n; ++y) {
        const TwoByTwo table(x, n, y, n);
        const std::array<Interval, names.size()> all = {
            newcombe_difference(table),
            newcombe_difference(table, 0.95, Side::both, true),
            miettinen_nurminen_difference(table),
            newcombe_ratio(table),
            miettinen_nurminen_ratio(table),
            newcombe_odds_ratio(table),
            miettinen_nurminen_odds_ratio(table)};
        for (std::size_t i = 0; i < truths.size(); ++i) {
          const auto [p, q] = truths[i];
          const double chance =
              first[i][static_cast<std::size_t>(x)] * second[i][static_cast<std::size_t>(y)];
          for (std::size_t m = 0; m < names.size(); ++m) {
            const double truth = m < 3 ? p - q : m < 5 ? p / q : p * (1 - q) / (q * (1 - p));
            // A difference of nought or a ratio of 1 may lie on an end: within rounding it is in.
            const double slack = 1e-9 * (1 + std::abs(truth));
            if (all[m].lower <= truth + slack && truth - slack <= all[m].upper)
              held[m][i] += chance;
          }
        }
      }
    std::vector<std::string> cells{std::to_string(n)};
    for (std::size_t m = 0; m < names.size(); ++m) {
      double mean = 0;
      for (const double h : held[m]) mean += h / static_cast<double>(truths.size());
      cells.push_back(Report::percent(mean) + " (" +
                      Report::percent(*std::min_element(held[m].begin(), held[m].end())) + ")");
      report.bar(std::string(names[m]) + ", n " + std::to_string(n), mean, 0.94,
                 m == 1 ? 1 : 0.975);
    }
    report.row(cells);
  }
}

// Fisher's, Barnard's and Boschloo's tests promise their level at every p.
void exact_tests(Report& report, const Effort& effort) {
  report.heading("Two percentages, seeds independent: tests at 5 %");
  report.say("Exact error when there is no difference, highest over p 0.05 to 0.99 (step 0.01).");
  report.say("Mid-p makes no such promise.");
  report.head({"n each", "Fisher", "mid-p", "Barnard", "Boschloo"});
  constexpr std::array names = {"Fisher", "mid-p", "Barnard", "Boschloo"};
  for (const int n : effort.full ? std::vector{10, 20, 50, 100} : std::vector{10}) {
    std::array<std::vector<std::pair<int, int>>, names.size()> claimed;
    for (int x = 0; x <= n; ++x)
      for (int y = 0; y < x; ++y) {  // the tests know no sides: the other half mirrors this one
        const TwoByTwo table(x, n, y, n);
        const std::array<double, names.size()> p = {fisher(table), fisher_mid_p(table),
                                                    barnard(table).p, boschloo(table).p};
        for (std::size_t m = 0; m < names.size(); ++m)
          if (p[m] <= 0.05) claimed[m].emplace_back(x, y);
      }
    std::array<double, names.size()> worst{};
    for (int c = 5; c <= 99; ++c) {
      const auto chance = binomial(n, c / 100.0);
      for (std::size_t m = 0; m < names.size(); ++m) {
        double error = 0;
        for (const auto& [x, y] : claimed[m])
          error += 2 * chance[static_cast<std::size_t>(x)] * chance[static_cast<std::size_t>(y)];
        worst[m] = std::max(worst[m], error);
      }
    }
    std::vector<std::string> cells{std::to_string(n)};
    for (std::size_t m = 0; m < names.size(); ++m) {
      cells.push_back(Report::percent(worst[m]));
      if (m != 1)
        report.bar(std::string("exact error of ") + names[m] + ", n " + std::to_string(n), worst[m],
                   0, 0.05);
    }
    report.row(cells);
  }
}

void ranges(Report& report, const Effort& effort) {
  report.heading("Trays of one lot: a wider range than is tolerated");
  report.say("Exact chance, the true percentage known, highest over p 0.05 to 0.95 (step 0.01);");
  report.say("the computed rule promises at most 2.5 %.");
  report.head({"trays", "n", "computed rule", "rule in force (published table at n 100)"});
  for (const int m : effort.full ? std::vector{2, 3, 4, 6} : std::vector{4})
    for (const int n : effort.full ? std::vector{10, 25, 50, 100} : std::vector{25}) {
      double computed = 0, in_force = 0;
      for (int c = 5; c <= 95; ++c) {
        const double p = c / 100.0;
        computed = std::max(computed, range_exceeds(m, n, p, computed_range(m, n, p).seeds));
        in_force = std::max(in_force, range_exceeds(m, n, p, tolerated_range(m, n, p).seeds));
      }
      report.row({std::to_string(m), std::to_string(n), Report::percent(computed),
                  Report::percent(in_force)});
      report.bar("tolerated range, " + std::to_string(m) + " x " + std::to_string(n), computed, 0,
                 0.025);
    }
}

}  // namespace

void seeds_alone(Report& report, const Effort& effort) {
  one_percentage(report, effort);
  two_percentages(report, effort);
  exact_tests(report, effort);
  ranges(report, effort);
}

}  // namespace plumule::calibration
