#include "analysis/lot_viability.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "analysis/lot_tests.hpp"
#include "analysis/tray_prior.hpp"
#include "crops/names.hpp"
#include "crops/standard.hpp"
#include "stats/fresh_sowing.hpp"
#include "stats/proportion.hpp"
#include "stats/tray_aware.hpp"

namespace plumule::analysis {

namespace {

constexpr double sure = 0.90;
constexpr double decided_often = 0.60;
constexpr std::array<int, 9> test_sizes = {10, 15, 20, 25, 30, 50, 75, 100, 200};

std::optional<LotStandard> standard_for(const records::Lot& lot, std::optional<double> given) {
  if (given) {
    if (!(*given > 0 && *given <= 1)) throw std::domain_error("a standard is above 0, at most 1");
    return LotStandard{*given, LotStandard::By::given, "as asked"};
  }
  const auto match = crops::find_crop(lot.crop);
  if (match.crop)
    if (const auto standard = crops::standard_of(*match.crop))
      return LotStandard{standard->fraction, LotStandard::By::crop,
                         std::string(standard->origin.source)};
  if (lot.label_germination && *lot.label_germination > 0)
    return LotStandard{*lot.label_germination, LotStandard::By::label, "the label"};
  return std::nullopt;
}

// What one posterior says of a standard.
struct Judged {
  double p_meets;
  double p_half;
  double low;   // P(at least this) = 90 %
  double mean;  // expected percentage
};

Judged judged(std::span<const stats::TrayCount> tests, const stats::RhoPrior& prior,
              double standard) {
  const stats::TrayAwarePosterior posterior(tests, prior);
  return {posterior.probability_at_least(standard), posterior.probability_at_least(standard / 2),
          posterior.interval(sure, stats::Side::lower).lower, posterior.mean()};
}

ViabilityGround ground_of(const Judged& judged, double standard) {
  if (judged.p_meets >= sure) return ViabilityGround::meets;
  if (judged.low >= 0.9 * standard) return ViabilityGround::near_enough;
  if (judged.p_half <= 1 - sure) return ViabilityGround::too_low;
  if (judged.p_meets <= 1 - sure) return ViabilityGround::falls_short;
  return ViabilityGround::undecided;
}

// The chance that one more test of n seeds decides it.
double chance_to_decide(std::vector<stats::TrayCount> tests, const stats::RhoPrior& prior,
                        double standard, int n) {
  const auto chances = stats::fresh_sowing_chances(tests, prior, n);
  tests.push_back({0, n});
  double decided = 0;
  for (std::size_t x = 0; x < chances.size(); ++x) {
    if (chances[x] < 1e-4) continue;
    tests.back().up = static_cast<std::int64_t>(x);
    if (ground_of(judged(tests, prior, standard), standard) != ViabilityGround::undecided)
      decided += chances[x];
  }
  return decided;
}

void find_more_seeds(ViabilityVerdict& verdict, const LotTests& tests, const stats::RhoPrior& prior,
                     double standard) {
  for (const int n : test_sizes) {
    const double decides = chance_to_decide(tests.counted, prior, standard, n);
    verdict.decides = decides;
    if (decides < decided_often) continue;
    verdict.more_seeds = n;
    return;
  }
}

records::Date settled_from(const LotTests& tests, records::Date today) {
  for (const auto& test : tests.tests)
    if (test.running && (test.use == TestUse::counted || test.use == TestUse::not_looked_at))
      today = std::max(today, test.sown + std::chrono::days(test.give_up_day));
  return today;
}

ViabilityVerdict verdict_of(const LotViability& lot, const LotTests& tests,
                            const ViabilityQuestion& question) {
  ViabilityVerdict verdict;
  if (tests.counted.empty()) {
    if (!tests.awaited) return verdict;
    verdict.code = ViabilityCode::wait;
    verdict.look_again = settled_from(tests, question.today);
    return verdict;
  }
  if (!lot.standard) {
    verdict.code = ViabilityCode::no_standard;
    return verdict;
  }
  const double standard = lot.standard->fraction;
  const auto now = judged(tests.counted, lot.stand.prior, standard);
  verdict.ground = ground_of(now, standard);
  const bool good = verdict.ground == ViabilityGround::meets;
  if (tests.running && !good) {
    verdict = {};
    verdict.code = ViabilityCode::wait;  // what is not up yet has not failed
    verdict.look_again = settled_from(tests, question.today);
    return verdict;
  }
  verdict.p_short = 1 - now.p_meets;
  verdict.sure_of = now.low;
  verdict.stand_if_wrong = std::min(1.0, now.low / standard);
  const double times = standard / std::max(now.mean, 1e-9);
  if (times > 1.05) verdict.times = std::ceil(times * 10 - 1e-9) / 10;
  switch (verdict.ground) {
    case ViabilityGround::meets:
    case ViabilityGround::near_enough:
      verdict.code = ViabilityCode::sow_as_usual;
      verdict.times.reset();
      break;
    case ViabilityGround::falls_short:
      verdict.code = ViabilityCode::sow_thicker;
      break;
    case ViabilityGround::too_low:
      verdict.code = lot.lot.irreplaceable ? ViabilityCode::sow_all : ViabilityCode::replace;
      break;
    case ViabilityGround::undecided:
    case ViabilityGround::nothing_known:
      verdict.code = ViabilityCode::test_more;
      if (question.plan_test) find_more_seeds(verdict, tests, lot.stand.prior, standard);
      break;
  }
  return verdict;
}

// The fewest seeds that, all up, show at least `standard` with that confidence.
std::optional<int> seeds_to_show(double standard, double level) {
  if (standard >= 1) return std::nullopt;
  const double n = std::log(1 - level) / std::log(standard);
  return n < 1e6 ? std::optional(static_cast<int>(std::ceil(n - 1e-9))) : std::nullopt;
}

}  // namespace

LotViability lot_viability(const records::Lot& lot, std::span<const records::History> histories,
                           const ViabilityQuestion& question) {
  LotViability result;
  result.lot = lot;
  const auto tests = lot_tests(histories);
  result.tests = tests.tests;
  result.from_soil = tests.from_soil;
  result.unit = tests.unit;
  result.hard = tests.hard;
  result.standard = standard_for(lot, question.standard);
  const double level = question.level;
  result.stand = stand_of(tests.counted, prior_of(tests.settings, question.rho), level);
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
  }
  result.verdict = verdict_of(result, tests, question);
  if (result.verdict.code == ViabilityCode::wait)
    result.p_meets.reset();
  else if (!tests.counted.empty())
    result.any_number = stats::batch_sequence(tests.counted, result.stand.prior, level);
  return result;
}

}  // namespace plumule::analysis
