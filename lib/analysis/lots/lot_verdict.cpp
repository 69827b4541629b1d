#include "analysis/lots/lot_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "analysis/lots/lot_ageing.hpp"
#include "stats/ageing/old_seed_choice.hpp"
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

Judged judged(const stats::AgedLot& lot, double day, double standard) {
  return {lot.chance_at_least(standard, day), lot.chance_at_least(standard / 2, day),
          lot.quantile(1 - sure, day), lot.mean(day)};
}

// A side of a clash, as it stood when it was tested.
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

// Costs in packets, as the grower has set them.
stats::SeasonCosts costs_of(const ViabilityQuestion& question) {
  stats::SeasonCosts costs;
  if (question.price && question.season_value && *question.price > 0)
    costs.crop = *question.season_value / *question.price;
  return costs;
}

bool under_cover(const LotTest& test) { return test.setting != records::Setting::row; }

// What `replace` may rest on.
void add_grounds(stats::OldSeedQuestion& asked, const LotViability& lot) {
  std::optional<records::Date> covered;
  for (const auto& test : lot.tests) {
    if (test.use != TestUse::counted || test.running) continue;
    if (!lot.from_soil) {
      asked.towel_within_year |= lot.as_of - test.sown < std::chrono::days(365);
    } else if (under_cover(test)) {
      asked.sown_twice_under_cover |= covered && *covered != test.sown;
      covered = test.sown;
    }
  }
}

stats::OldSeedChoice choice_for(const LotViability& lot, const stats::AgedLot& belief,
                                const ViabilityQuestion& question) {
  stats::OldSeedQuestion asked;
  asked.standard = lot.standard->fraction;
  asked.costs = costs_of(question);
  asked.seeds_to_spare = lot.seeds_spare;
  if (lot.seeds_left && *lot.seeds_left > 0 && lot.last_use)
    asked.times_left = static_cast<double>(*lot.seeds_left) / static_cast<double>(*lot.last_use);
  asked.irreplaceable = lot.lot.irreplaceable;
  add_grounds(asked, lot);
  return stats::choose_for_old_seed(belief.points(day_number(lot.as_of)), asked);
}

ViabilityCode code_of(const stats::Considered& best) {
  if (best.way == stats::Way::replace) return ViabilityCode::replace;
  if (best.way == stats::Way::sow_and_buy) return ViabilityCode::sow_and_buy;
  return best.times > 1 ? ViabilityCode::sow_thicker : ViabilityCode::sow_as_usual;
}

// The least that is worth laying in a towel, where soil alone has spoken.
constexpr std::int64_t towel_seeds = 10;

void take_choice(ViabilityVerdict& verdict, const LotViability& lot,
                 const stats::OldSeedChoice& choice) {
  verdict.code = code_of(choice.best);
  if (choice.best.times > 1) verdict.times = choice.best.times;
  auto test = choice.test_seeds;
  if (lot.from_soil && verdict.code == ViabilityCode::sow_and_buy &&
      lot.seeds_spare.value_or(towel_seeds) >= towel_seeds)
    test = std::max(test, towel_seeds);
  if (test > 0) {
    verdict.packet_at_hand = choice.best.way != stats::Way::sow;
    verdict.code = ViabilityCode::test_more;
    verdict.more_seeds = static_cast<int>(test);
  }
  if (lot.lot.irreplaceable && choice.p_half <= 1 - sure) {
    verdict.code = ViabilityCode::sow_in_two_goes;
    verdict.times.reset();
    verdict.more_seeds.reset();
  }
}

}  // namespace

ViabilityVerdict lot_verdict(const LotViability& lot, const LotTests& tests,
                             const LotBelief& belief, const ViabilityQuestion& question) {
  if (lot.clash) return clashing(lot, tests, question);
  ViabilityVerdict verdict;
  if (tests.counted.empty()) return tests.awaited ? waiting(tests, question.today) : verdict;
  if (!lot.standard) {
    verdict.code = ViabilityCode::no_standard;
    return verdict;
  }
  const double standard = lot.standard->fraction;
  const double day = day_number(lot.as_of);
  const auto now = judged(*belief.up, day, standard);
  verdict.ground = ground_of(now, standard);
  if (tests.running && verdict.ground != ViabilityGround::meets)
    return waiting(tests, question.today);
  verdict.p_short = 1 - now.p_meets;
  verdict.sure_of = now.low;
  verdict.stand_if_wrong = std::min(1.0, now.low / standard);
  if (lot.hard > 0) {
    const auto alive = judged(*belief.alive, day, standard);
    if (nicking_helps(verdict.ground, ground_of(alive, standard))) {
      verdict.times = thicker(standard, now.mean);
      mend_hard_seed(verdict, alive, standard);
      return verdict;
    }
  }
  take_choice(verdict, lot, choice_for(lot, *belief.up, question));
  return verdict;
}

}  // namespace plumule::analysis
