// Whole trials drawn and judged; see the header for the rule of the search.
#include "stats/trials/trays_to_tell.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "stats/inference/t_test.hpp"
#include "stats/numeric/random.hpp"
#include "stats/trays/tray_aware_difference.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/planned_verdict.hpp"

namespace plumule::stats {
namespace {

constexpr std::array layouts = {2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24};
constexpr int most_trials = 400, fewest_trials = 40;
constexpr double share_margin = 0.04, enough_log_odds = 2.944;  // log 19: wrong 1 time in 20
constexpr std::int64_t most_seeds = 1000;

struct Truth {
  double p_first = 0, p_second = 0, rho = 0;
};

// Whether `neither` is still thinkable: even the seeds alone, all independent, leave a standard
// error that puts 95 % within d, with a sixth to spare. Saves the posterior where it would be for
// nothing.
bool neither_thinkable(std::span<const StandUnit> first, std::span<const StandUnit> second,
                       double d) {
  double variance = 0;
  for (const auto& units : {first, second}) {
    TrayCount all;
    for (const auto& unit : units) {
      const auto count = unit_count(unit);
      all.up += count.up;
      all.sown += count.sown;
    }
    const double n = static_cast<double>(all.sown),
                 p = (static_cast<double>(all.up) + 0.5) / (n + 1);
    variance += p * (1 - p) / (n + 1);
  }
  return 1.96 * std::sqrt(variance) <= 1.17 * d;
}

StandClaim one_trial(Random& random, const Truth& truth, int trays, std::int64_t seeds,
                     const RhoPrior& prior, double d) {
  std::vector<StandUnit> first, second;
  for (int i = 0; i < trays; ++i) {
    first.push_back({{{random.beta_binomial(seeds, truth.p_first, truth.rho), seeds}}});
    second.push_back({{{random.beta_binomial(seeds, truth.p_second, truth.rho), seeds}}});
  }
  // The t is cheap and both claims need it (or, without variance, more than it).
  const auto t = pooled_t(unit_fractions(first), unit_fractions(second));
  const bool claim_thinkable = t.status != TStatus::ok || t.p <= t_level;
  if (!claim_thinkable && !neither_thinkable(first, second, d)) return StandClaim::none;
  return stand_claim(stand_evidence(first, second, prior, d));
}

// Share of trials with a verdict, by Wald's sequential test (1945): drawn until the odds are 19 to
// 1 that the share is the margin above the one wanted rather than as much below it, or the reverse.
double decided_share(const PlannedVerdict& plan, int trays, double wanted, std::uint64_t seed) {
  Random random(seed + static_cast<std::uint64_t>(trays));
  PlannedTrials trial(plan, trays);
  const double margin = std::min({share_margin, wanted / 2, (1 - wanted) / 2});
  const double when_decided = std::log((wanted + margin) / (wanted - margin));
  const double when_not = std::log((1 - wanted - margin) / (1 - wanted + margin));
  int decided = 0, trials = 0;
  double log_odds = 0;
  while (trials < most_trials &&
         (trials < fewest_trials || std::fabs(log_odds) < enough_log_odds)) {
    const bool told = trial.draw(random) != StandClaim::none;
    decided += told ? 1 : 0;
    log_odds += told ? when_decided : when_not;
    ++trials;
  }
  return static_cast<double>(decided) / trials;
}

}  // namespace

StandChances stand_chances(double p_first, double p_second, double rho, int trays,
                           std::int64_t seeds, const RhoPrior& prior, double d, int trials,
                           std::uint64_t seed) {
  if (!(p_first >= 0 && p_first <= 1 && p_second >= 0 && p_second <= 1))
    throw std::domain_error("a supposed percentage must lie between 0 and 100 %");
  if (!(rho >= 0 && rho < 1)) throw std::domain_error("a supposed rho must lie in [0, 1)");
  if (trays < 1 || seeds < 1 || trials < 1)
    throw std::domain_error("a trial to simulate needs trays, seeds and a number of trials");
  Random random(seed);
  std::array<int, 4> seen{};
  for (int i = 0; i < trials; ++i) {
    const auto claim = one_trial(random, {p_first, p_second, rho}, trays, seeds, prior, d);
    ++seen[static_cast<std::size_t>(claim)];
  }
  const double share = 1.0 / trials;
  return {seen[0] * share, seen[1] * share, seen[2] * share, seen[3] * share};
}

TraysToTell trays_to_tell(std::span<const StandUnit> first, std::span<const StandUnit> second,
                          const RhoPrior& prior, double d, double chance_wanted,
                          std::uint64_t seed) {
  std::vector<TrayCount> one, two;
  for (const auto& unit : first) one.push_back(unit_count(unit));
  for (const auto& unit : second) two.push_back(unit_count(unit));
  return trays_to_tell(first, second, TrayAwareDifference(one, two, prior), prior, d, chance_wanted,
                       seed);
}

TraysToTell trays_to_tell(std::span<const StandUnit> first, std::span<const StandUnit> second,
                          const TrayAwareDifference& posterior, const RhoPrior& prior, double d,
                          double chance_wanted, std::uint64_t seed) {
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
  if (!(chance_wanted > 0 && chance_wanted < 1))
    throw std::domain_error("the chance wanted must lie between 0 and 1");
  TraysToTell told;
  told.most_tried = layouts.back();
  std::vector<std::int64_t> sown;
  for (const auto& units : {first, second})
    for (const auto& unit : units) sown.push_back(unit_count(unit).sown);
  const Truth truth{posterior.mean_first(), posterior.mean_second(), posterior.rho_mean()};
  told.p_first = truth.p_first;
  told.p_second = truth.p_second;
  told.rho = truth.rho;
  if (first.empty() || second.empty()) return told;
  std::sort(sown.begin(), sown.end());
  const std::size_t half = sown.size() / 2;
  const double median = sown.size() % 2 == 1 ? static_cast<double>(sown[half])
                                             : static_cast<double>(sown[half - 1] + sown[half]) / 2;
  told.seeds = std::max<std::int64_t>(1, std::llround(median));

  const PlannedVerdict plan(truth.p_first, truth.p_second, truth.rho,
                            std::min(told.seeds, most_seeds), prior, d);
  // The first layout, by halving, that decides often enough.
  std::size_t low = 0, high = layouts.size();
  double share = 0;
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    share = decided_share(plan, layouts[middle], chance_wanted, seed);
    if (share >= chance_wanted) {
      high = middle;
      told.trays = layouts[middle];
      told.chance = share;
    } else {
      low = middle + 1;
    }
  }
  if (!told.trays) told.chance = share;
  return told;
}

}  // namespace plumule::stats
