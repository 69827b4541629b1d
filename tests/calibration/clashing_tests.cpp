// Two tests of one lot that clash: how often are sound pairs flagged, and how often is a spoilt
// test found? Of single towels exactly, of several by drawing.
#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/trays/fresh_sowing.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr double flagged_below = 0.025;
const RhoPrior towels = rho_from_beta(rho_b_towels_and_dishes);

std::vector<double> chances(std::int64_t n, double p, double rho) {
  const std::array<LotPoint, 1> truth{{{p, rho, 1}}};
  return fresh_test_chances(truth, std::array{n});
}

// Every pair of outcomes of an older towel of n seeds and a newer of m.
class Pairs {
 public:
  Pairs(std::int64_t n, std::int64_t m) : n_(n), m_(m) {
    for (std::int64_t x = 0; x <= n; ++x) {
      const std::array<TrayCount, 1> older{{{x, n}}};
      const auto newer = fresh_sowing_chances(older, towels, m);
      auto& row = flagged_.emplace_back();
      for (std::int64_t y = 0; y <= m; ++y) row.push_back(mid_p(newer, y) < flagged_below);
    }
  }

  double flagged(double p_older, double p_newer, double rho) const {
    const auto older = chances(n_, p_older, rho), newer = chances(m_, p_newer, rho);
    double sum = 0;
    for (std::size_t x = 0; x < older.size(); ++x)
      for (std::size_t y = 0; y < newer.size(); ++y)
        if (flagged_[x][y]) sum += older[x] * newer[y];
    return sum;
  }
  // rho from its prior, on `points` equal shares of it.
  double flagged_by_prior(double p_older, double p_newer, int points) const {
    double sum = 0;
    for (int i = 0; i < points; ++i)
      sum += flagged(p_older, p_newer, rho_quantile(towels, (i + 0.5) / points)) / points;
    return sum;
  }

 private:
  std::int64_t n_, m_;
  std::vector<std::vector<bool>> flagged_;
};

void exactly(Report& report, const Effort& effort) {
  report.head({"older", "newer", "sound pairs flagged, p 0.1 to 0.97", "highest of one p",
               "the same, rho 0.1", "older spoilt: 0.5 before 0.9",
               "newer spoilt: 0.9 before 0.5"});
  const auto sizes = effort.full
                         ? std::vector<std::array<std::int64_t, 2>>{{10, 10}, {10, 50}, {20, 20},
                                                                    {50, 10}, {50, 50}, {100, 100}}
                         : std::vector<std::array<std::int64_t, 2>>{{10, 10}, {50, 50}};
  const int shares = effort.of(20, 200);
  const double step = effort.full ? 0.01 : 0.0435;
  double over_all = 0;
  for (const auto& [n, m] : sizes) {
    const Pairs pairs(n, m);
    double mean = 0, highest = 0, at_a_tenth = 0;
    int points = 0;
    for (double p = 0.1; p < 0.9701; p += step, ++points) {
      const double here = pairs.flagged_by_prior(p, p, shares);
      mean += here;
      highest = std::max(highest, here);
      at_a_tenth = std::max(at_a_tenth, pairs.flagged(p, p, 0.1));
    }
    mean /= points;
    const double found = pairs.flagged_by_prior(0.5, 0.9, shares);
    report.row({std::to_string(n), std::to_string(m), Report::percent(mean),
                Report::percent(highest), Report::percent(at_a_tenth), Report::percent(found),
                Report::percent(pairs.flagged_by_prior(0.9, 0.5, shares))});
    report.bar("sound pairs of tests flagged, " + std::to_string(n) + " and " + std::to_string(m),
               mean, 0, 0.055);
    over_all += mean / static_cast<double>(sizes.size());
    if (n == 50 && m == 50) report.bar("spoilt first test found, 50 and 50", found, 0.85, 1);
  }
  report.bar("sound pairs of tests flagged over all sizes", over_all, 0, 0.05);
}

// Both tests of k towels of n seeds.
double drawn(int k, int n, double p_older, double p_newer, int trials, std::uint64_t seed) {
  Random random(seed);
  double flagged = 0;
  for (int t = 0; t < trials; ++t) {
    const double shift = p_older == p_newer ? 0.87 * random.unit() : 0;
    const double rho = random.beta(1, towels.b);
    const auto older = draw_stand(random, k, n, p_older + shift, rho);
    const auto newer = draw_stand(random, k, n, p_newer + shift, rho);
    if (fresh_test_mid_p(lot_belief(older, towels, k * n), newer) < flagged_below) ++flagged;
  }
  return flagged / trials;
}

void by_drawing(Report& report, const Effort& effort) {
  report.say("\nTests of several towels, 6,000 drawn; p of sound pairs even on 0.1 to 0.97.");
  report.head({"towels", "seeds in each", "sound pairs flagged", "older spoilt: 0.5 before 0.9"});
  constexpr int trials = 6000;
  std::uint64_t seed = 12000;
  for (const auto& [k, n] : {std::pair{2, 10}, std::pair{4, 25}, std::pair{4, 50}}) {
    const double sound = drawn(k, n, 0.1, 0.1, trials, ++seed);
    report.row({std::to_string(k), std::to_string(n), Report::percent(sound),
                Report::percent(drawn(k, n, 0.5, 0.9, trials, ++seed))});
    report.bar(
        "sound pairs of tests flagged, towels " + std::to_string(k) + " of " + std::to_string(n),
        sound, 0, 0.05 + effort.room(0.05, trials));
  }
}

}  // namespace

void clashing_tests(Report& report, const Effort& effort) {
  report.heading("Two tests of one lot that clash");
  report.say(
      "The mid-p of the newer's total under what the older says is below 0.025. rho of both");
  report.say("tests from Beta(1, 49), but in the column that says otherwise; one towel each.");
  report.say(
      "By its making 5 % of sound pairs are flagged over the prior of p; barred are the mean");
  report.say("of all sizes at 5 and each pair of sizes at 5.5.");
  exactly(report, effort);
  if (effort.full) by_drawing(report, effort);
}

}  // namespace plumule::calibration
