#include "analysis/lots/lot_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "stats/trays/fresh_sowing.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::analysis {

namespace {

constexpr double sure = 0.90;
constexpr double decided_often = 0.60;
constexpr std::array<int, 9> test_sizes = {10, 15, 20, 25, 30, 50, 75, 100, 200};

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

// The fewest seeds that decide it often enough; `decides` gives the chance for so many.
template <class Decides>
void find_more_seeds(ViabilityVerdict& verdict, const Decides& decides) {
  for (const int n : test_sizes) {
    verdict.decides = decides(n);
    if (*verdict.decides < decided_often) continue;
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

// So many times as thick as seed at the standard; none where 1.05 or less would do.
std::optional<double> thicker(double standard, double mean) {
  const double times = standard / std::max(mean, 1e-9);
  if (times <= 1.05) return std::nullopt;
  return std::ceil(times * 10 - 1e-9) / 10;
}

bool enough(ViabilityGround ground) {
  return ground == ViabilityGround::meets || ground == ViabilityGround::near_enough;
}

// Too few come up, and hard seed is what lacks.
bool nicking_helps(ViabilityGround now, ViabilityGround alive) {
  if (enough(now)) return false;
  return enough(alive) || (now == ViabilityGround::too_low && alive != ViabilityGround::too_low);
}

// Where thicker sowing makes up for it that is less work; else the coat has to be cut.
void mend_hard_seed(ViabilityVerdict& verdict, const Judged& alive, double standard) {
  const bool too_low = verdict.ground == ViabilityGround::too_low;
  verdict.ground = ViabilityGround::hard_seed;
  verdict.code = too_low ? ViabilityCode::nick_seed : ViabilityCode::sow_thicker;
  if (!too_low) return;
  if (!enough(ground_of(alive, standard))) verdict.times_nicked = thicker(standard, alive.mean);
  verdict.p_short = 1 - alive.p_meets;
  verdict.sure_of = alive.low;
  verdict.stand_if_wrong = std::min(1.0, alive.low * verdict.times_nicked.value_or(1) / standard);
}

ViabilityVerdict waiting(const LotTests& tests, records::Date today) {
  ViabilityVerdict verdict;
  verdict.code = ViabilityCode::wait;  // what is not up yet has not failed
  verdict.look_again = settled_from(tests, today);
  return verdict;
}

// Two tests cannot both be right: one more tells which, and the lower is what to sow by until then.
ViabilityVerdict clashing(const LotViability& lot, const LotTests& tests,
                          const ViabilityQuestion& question) {
  ViabilityVerdict verdict;
  if (tests.running || tests.awaited) verdict = waiting(tests, question.today);
  verdict.ground = ViabilityGround::tests_clash;
  if (verdict.code == ViabilityCode::wait) return verdict;
  verdict.code = ViabilityCode::test_more;
  const auto& prior = lot.stand.prior;
  if (question.plan_test)
    find_more_seeds(verdict, [&](int n) { return chance_to_settle(*lot.clash, prior, n); });
  if (!lot.standard) return verdict;
  const double standard = lot.standard->fraction;
  const auto lower = judged(lot.clash->lower().counted, prior, standard);
  verdict.meanwhile = ground_of(lower, standard);
  verdict.p_short = 1 - lower.p_meets;
  verdict.sure_of = lower.low;
  verdict.stand_if_wrong = std::min(1.0, lower.low / standard);
  if (!enough(*verdict.meanwhile) && verdict.meanwhile != ViabilityGround::too_low)
    verdict.times = thicker(standard, lower.mean);
  return verdict;
}

}  // namespace

ViabilityVerdict lot_verdict(const LotViability& lot, const LotTests& tests,
                             const ViabilityQuestion& question) {
  if (lot.clash) return clashing(lot, tests, question);
  ViabilityVerdict verdict;
  if (tests.counted.empty()) return tests.awaited ? waiting(tests, question.today) : verdict;
  if (!lot.standard) {
    verdict.code = ViabilityCode::no_standard;
    return verdict;
  }
  const double standard = lot.standard->fraction;
  const auto& prior = lot.stand.prior;
  const auto now = judged(tests.counted, prior, standard);
  verdict.ground = ground_of(now, standard);
  if (tests.running && verdict.ground != ViabilityGround::meets)
    return waiting(tests, question.today);
  verdict.p_short = 1 - now.p_meets;
  verdict.sure_of = now.low;
  verdict.stand_if_wrong = std::min(1.0, now.low / standard);
  verdict.times = thicker(standard, now.mean);
  if (lot.hard > 0) {
    const auto alive = judged(tests.alive, prior, standard);
    if (nicking_helps(verdict.ground, ground_of(alive, standard))) {
      mend_hard_seed(verdict, alive, standard);
      return verdict;
    }
  }
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
    case ViabilityGround::hard_seed:
    case ViabilityGround::tests_clash:
    case ViabilityGround::undecided:
    case ViabilityGround::nothing_known:
      verdict.code = ViabilityCode::test_more;
      if (question.plan_test)
        find_more_seeds(verdict, [&](int n) {
          return chance_to_decide(lot.standard->counts_hard ? tests.alive : tests.counted, prior,
                                  standard, n);
        });
      break;
  }
  return verdict;
}

}  // namespace plumule::analysis
