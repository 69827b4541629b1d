#include "analysis/lots/lot_viability.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "analysis/lots/lot_tests.hpp"
#include "analysis/lots/lot_verdict.hpp"
#include "analysis/rho/tray_prior.hpp"
#include "crops/names.hpp"
#include "crops/standard.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::analysis {

namespace {

// Of any number of seeds, all up, the chance that every one of the lot is alive is nought.
constexpr double highest_standard = 0.99;

std::optional<LotStandard> standard_for(const records::Lot& lot, std::optional<double> given) {
  if (given) {
    if (!(*given > 0 && *given <= highest_standard))
      throw std::domain_error("a standard is above 0, at most 0.99");
    return LotStandard{*given, LotStandard::By::given, "as asked"};
  }
  const auto match = crops::find_crop(lot.crop);
  if (match.crop)
    if (const auto standard = crops::standard_of(*match.crop))
      return LotStandard{standard->fraction, LotStandard::By::crop,
                         std::string(standard->origin.source), standard->counts_hard};
  if (lot.label_germination && *lot.label_germination > 0)
    return LotStandard{std::min(*lot.label_germination, highest_standard), LotStandard::By::label,
                       *lot.label_germination > highest_standard
                           ? "the label, which says more than any test can show"
                           : "the label"};
  return std::nullopt;
}

// The fewest seeds that, all up, show at least `standard` with that confidence.
std::optional<int> seeds_to_show(double standard, double level) {
  if (standard >= 1) return std::nullopt;
  const double n = std::log(1 - level) / std::log(standard);
  return n < 1e6 ? std::optional(static_cast<int>(std::ceil(n - 1e-9))) : std::nullopt;
}

// What those that are hard make of it: they are alive, and come up when their coat lets water in.
void add_the_hard(LotViability& result, const LotTests& tests, double level) {
  result.alive = stand_of(tests.alive, result.stand.prior, level);
  add_other_intervals(*result.alive, tests.alive);
  if (!result.standard) return;
  const stats::TrayAwarePosterior posterior(tests.alive, result.stand.prior);
  result.p_now = result.p_meets;
  result.p_alive = posterior.probability_at_least(result.standard->fraction);
  if (result.standard->counts_hard) result.p_meets = result.p_alive;
}

// The chance that the standard is met, by each side alone.
void judge_sides(LotClash& clash, const LotStandard& standard) {
  const auto judge = [&](ClashSide& side) {
    const auto& counts = standard.counts_hard ? side.alive : side.counted;
    side.p_meets =
        stats::TrayAwarePosterior(counts, side.stand.prior).probability_at_least(standard.fraction);
  };
  judge(clash.older);
  judge(clash.newer);
  for (auto& side : clash.later) judge(side);
}

}  // namespace

LotViability lot_viability(const records::Lot& lot, std::span<const records::History> histories,
                           const ViabilityQuestion& question) {
  LotViability result;
  result.lot = lot;
  auto tests = lot_tests(histories, question.today);
  auto prior = prior_of(tests.settings, question.rho);
  result.clash = set_clashing_apart(tests, prior, question.level);
  if (!result.clash) prior = prior_of(tests.settings, question.rho);
  result.tests = tests.tests;
  result.from_soil = tests.from_soil;
  result.unit = tests.unit;
  result.hard = tests.hard;
  result.standard = standard_for(lot, question.standard);
  const double level = question.level;
  result.stand = stand_of(tests.counted, prior, level);
  add_other_intervals(result.stand, tests.counted);
  if (result.standard) result.seeds_to_show = seeds_to_show(result.standard->fraction, level);
  if (!tests.counted.empty()) {
    const stats::TrayAwarePosterior posterior(tests.counted, result.stand.prior);
    result.lower_limit = posterior.interval(level, stats::Side::lower);
    result.upper_limit = posterior.interval(level, stats::Side::upper);
    const stats::Tally all(result.stand.emerged, result.stand.seeds);
    result.lower_exact = stats::clopper_pearson(all, level, stats::Side::lower);
    result.upper_exact = stats::clopper_pearson(all, level, stats::Side::upper);
    const stats::Tally best(result.stand.seeds, result.stand.seeds);
    result.best_lower = stats::clopper_pearson(best, level, stats::Side::lower).lower;
    if (result.standard) result.p_meets = posterior.probability_at_least(result.standard->fraction);
    if (result.hard > 0) add_the_hard(result, tests, level);
  }
  if (result.clash && result.standard) judge_sides(*result.clash, *result.standard);
  result.verdict = lot_verdict(result, tests, question);
  if (result.verdict.code == ViabilityCode::wait)
    result.p_meets = result.p_now = result.p_alive = std::nullopt;
  else if (!tests.counted.empty())
    result.any_number = stats::batch_sequence(tests.counted, result.stand.prior, level);
  return result;
}

}  // namespace plumule::analysis
