#include "analysis/lots/lot_viability.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>

#include "analysis/course/sown_in.hpp"
#include "analysis/lots/lot_ageing.hpp"
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

// Every test at its age: what that says on the day asked about. Those that are hard are alive, and
// come up when their coat lets water in.
LotBelief age(LotViability& result, const LotTests& tests, records::Date as_of, double level) {
  const auto& prior = result.stand.prior;
  LotBelief belief;
  const auto up = aged_tests(tests, false);
  belief.up = aged_lot(result.lot, up, prior);
  if (result.hard > 0) belief.alive = aged_lot(result.lot, aged_tests(tests, true), prior);
  if (!belief.up) return belief;
  std::optional<double> standard;
  if (result.standard) standard = result.standard->fraction;
  const auto& counts =
      belief.alive && result.standard && result.standard->counts_hard ? *belief.alive : *belief.up;
  result.ageing = ageing_of(counts, result.lot, up, standard, as_of, level);
  if (!standard || tests.counted.empty()) return belief;
  const double day = day_number(as_of);
  result.p_meets = counts.chance_at_least(*standard, day);
  if (!belief.alive) return belief;
  result.p_now = belief.up->chance_at_least(*standard, day);
  result.p_alive = belief.alive->chance_at_least(*standard, day);
  return belief;
}

// What was sown in soil in the last year in which any was, and what that leaves of the stock.
void add_stock(LotViability& result, std::span<const records::History> histories,
               std::optional<std::int64_t> left) {
  const auto year_of = [](const records::Sowing& sowing) {
    return std::chrono::year_month_day(sowing.sown.date).year();
  };
  std::optional<std::chrono::year> last;
  for (const auto& history : histories) {
    const auto& sowing = history.sowing;
    if (sown_in(sowing.setting) == crops::SownIn::towel || !sowing.units || *sowing.units <= 0)
      continue;
    const auto year = year_of(sowing);
    if (!last || year > *last) {
      last = year;
      result.last_use = 0;
    }
    if (year == *last) *result.last_use += *sowing.units;
  }
  if (!left) return;
  result.seeds_left = std::max<std::int64_t>(0, *left);
  result.seeds_spare = std::max<std::int64_t>(0, *result.seeds_left - result.last_use.value_or(0));
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
  result.asked_on = question.today;
  result.as_of = question.as_of.value_or(question.today);
  auto tests = lot_tests(histories, question.today);
  auto prior = prior_of(tests.settings, question.rho);
  result.clash = set_clashing_apart(tests, ageing_rate(lot), prior, question.level);
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
    if (result.hard > 0) {
      result.alive = stand_of(tests.alive, prior, level);
      add_other_intervals(*result.alive, tests.alive);
    }
  }
  add_stock(result, histories, question.seeds_left);
  LotBelief belief;
  if (!result.clash) belief = age(result, tests, result.as_of, level);
  if (result.clash && result.standard) judge_sides(*result.clash, *result.standard);
  result.verdict = lot_verdict(result, tests, belief, question);
  if (result.verdict.code == ViabilityCode::wait) {
    result.p_meets = result.p_now = result.p_alive = std::nullopt;
    result.ageing.reset();
  } else if (!tests.counted.empty()) {
    result.any_number = stats::batch_sequence(tests.counted, result.stand.prior, level);
  }
  return result;
}

}  // namespace plumule::analysis
