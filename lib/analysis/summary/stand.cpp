#include "analysis/summary/stand.hpp"

#include <algorithm>

#include "stats/proportions/proportion.hpp"
#include "stats/trays/design_effect.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::analysis {

namespace {

std::vector<stats::Tally> tallies(std::span<const stats::TrayCount> sowings) {
  std::vector<stats::Tally> result;
  result.reserve(sowings.size());
  for (const auto& sowing : sowings) result.emplace_back(sowing.up, sowing.sown);
  return result;
}

}  // namespace

bool hold_share(stats::Interval& interval, double share) {
  const bool held = interval.lower <= share && share <= interval.upper;
  interval.lower = std::min(interval.lower, share);
  interval.upper = std::max(interval.upper, share);
  return !held;
}

Stand stand_without_range(std::span<const stats::TrayCount> sowings, const stats::RhoPrior& prior) {
  Stand result;
  result.prior = prior;
  result.rho90 = stats::rho90(prior);
  double of_sowings = 0;
  for (const auto& sowing : sowings) {
    ++result.sowings;
    result.seeds += sowing.sown;
    result.emerged += sowing.up;
    of_sowings += static_cast<double>(sowing.up) / static_cast<double>(sowing.sown);
  }
  if (result.sowings == 0) return result;
  result.mean_of_sowings = of_sowings / result.sowings;
  result.fraction = stats::Tally(result.emerged, result.seeds).fraction();
  return result;
}

Stand stand_of(std::span<const stats::TrayCount> sowings, const stats::RhoPrior& prior,
               double level, std::span<const stats::TrayCount> units) {
  if (units.empty()) units = sowings;
  Stand result = stand_without_range(sowings, prior);
  if (!result.fraction) return result;
  result.interval = stats::tray_aware_interval(units, prior, level);
  result.interval_moved = hold_share(*result.interval, *result.fraction);
  return result;
}

void add_other_intervals(Stand& stand, std::span<const stats::TrayCount> units) {
  if (!stand.interval) return;
  const double level = stand.interval->level;
  const stats::Tally all(stand.emerged, stand.seeds);
  stand.intervals = {*stand.interval, stats::wilson(all, level), stats::clopper_pearson(all, level),
                     stats::jeffreys(all, level)};
  if (units.size() < 2) return;
  if (const auto design = stats::design_effect(tallies(units), level))
    stand.intervals.push_back(design->interval);
}

std::optional<Agreement> agreement_of(std::span<const stats::TrayCount> sowings,
                                      std::uint64_t seed) {
  constexpr std::size_t most_sowings = 100;
  constexpr std::int64_t draws = 9999;
  if (sowings.size() < 2 || sowings.size() > most_sowings) return std::nullopt;
  const auto trays = tallies(sowings);
  return Agreement{stats::check_range(trays), stats::heterogeneity(trays, seed, draws),
                   stats::fit_beta_binomial(trays)};
}

}  // namespace plumule::analysis
