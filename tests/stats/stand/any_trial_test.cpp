// What holds of any trial whatever by the model of the stand: two to four treatments in one to four
// strata, units missing at random, of 1 to 1,000 seeds, all up and nothing up among them. A few
// hundred trials; PLUMULE_TRIALS=20000 in the environment makes it that many.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <span>
#include <string>
#include <vector>

#include "stats/numeric/random.hpp"
#include "stats/stand/claims.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;

namespace {

const auto prior = rho_from_beta(24);

struct Trial {
  std::vector<PlacedUnit> units;
  int treatments = 0;
};

int some_seeds(Random& random) {
  return std::clamp(static_cast<int>(std::exp(6.91 * random.unit())), 1, 1000);
}

Trial any_trial(Random& random) {
  Trial made;
  made.treatments = 2 + static_cast<int>(random.below(3));
  const auto strata = static_cast<int>(1 + random.below(4)),
             most = static_cast<int>(1 + random.below(4));
  const bool alike = random.below(2) == 0;
  const int usual = some_seeds(random);
  const double base = random.unit(), rho = random.below(3) == 0 ? 0 : random.beta(1, 24);
  const auto whole = random.below(20);  // 0: nothing up in all the trial, 1: all up
  const auto sow = [&](int treatment, int stratum) {
    const int n = alike ? usual : some_seeds(random);
    const double p = std::clamp(base + 0.2 * stratum - 0.15 * treatment, 1e-3, 0.999);
    const auto up = whole < 2               ? n * static_cast<std::int64_t>(whole)
                    : random.below(20) == 0 ? n * static_cast<std::int64_t>(random.below(2))
                                            : random.beta_binomial(n, p, rho);
    made.units.push_back({treatment, stratum, up, n});
  };
  for (int t = 0; t < made.treatments; ++t)
    for (int b = 0; b < strata; ++b)
      for (int i = 0; i < most; ++i)
        if (random.below(4) != 0) sow(t, b);
  // Every treatment has a unit, but where they cannot be told apart in one and the same stratum.
  const bool parted = random.below(10) == 0;
  for (int t = 0; t < made.treatments; ++t) sow(t, parted ? t : 0);
  return made;
}

struct Answer {
  std::vector<double> means;
  std::vector<Interval> ranges;
  std::vector<StandContrast> contrasts;  // every treatment against every other, both ways
  std::vector<JudgedContrast> judged;    // those against 0, together
};

std::size_t place(int first, int second, int treatments) {
  return static_cast<std::size_t>(first * treatments + second);
}

Answer answer(const Trial& trial) {
  const StandModel model(trial.units, trial.treatments, prior);
  Answer made;
  std::vector<StandContrast> against;
  for (int t = 0; t < trial.treatments; ++t) {
    made.means.push_back(model.mean(t));
    made.ranges.push_back(model.range(t));
    for (int other = 0; other < trial.treatments; ++other)
      made.contrasts.push_back(t == other ? StandContrast{} : contrast(model, t, other));
    if (t > 0) against.push_back(made.contrasts[place(t, 0, trial.treatments)]);
  }
  made.judged = claim_together(against);
  return made;
}

bool is_claim(StandClaim claim) { return claim == StandClaim::more || claim == StandClaim::fewer; }

StandClaim mirrored(StandClaim claim) {
  return claim == StandClaim::more    ? StandClaim::fewer
         : claim == StandClaim::fewer ? StandClaim::more
                                      : claim;
}

// `turned`: the second is of the same trial with the two treatments' parts exchanged. Chances are
// as near as their contract has them where few seeds lie near an end.
void check_same(const StandContrast& one, const StandContrast& other, bool turned) {
  constexpr double near = 1e-4, near_chance = 1e-3;
  CHECK(one.told_apart == other.told_apart);
  if (!one.told_apart) return;
  const double sign = turned ? -1 : 1;
  CHECK_WITHIN(one.estimate, sign * other.estimate, near);
  CHECK_WITHIN(one.range.lower, turned ? -other.range.upper : other.range.lower, near);
  CHECK_WITHIN(one.range.upper, turned ? -other.range.lower : other.range.upper, near);
  CHECK_WITHIN(one.p_better, turned ? 1 - other.p_better : other.p_better, near_chance);
  CHECK_WITHIN(one.p_worth, turned ? other.p_worth_less : other.p_worth, near_chance);
  CHECK_WITHIN(one.p_within, other.p_within, near_chance);
  const auto claim = [](const StandContrast& of) { return claim_together({&of, 1}).front().claim; };
  CHECK(claim(one) == (turned ? mirrored(claim(other)) : claim(other)));
}

void check_inside(const Trial& trial, const Answer& found) {
  for (std::size_t t = 0; t < found.means.size(); ++t) {
    CHECK(found.ranges[t].lower <= found.means[t]);
    CHECK(found.ranges[t].upper >= found.means[t]);
    CHECK(found.ranges[t].lower >= 0);
    CHECK(found.ranges[t].upper <= 1);
  }
  for (int t = 0; t < trial.treatments; ++t)
    for (int other = 0; other < trial.treatments; ++other) {
      if (t == other) continue;
      const auto& one = found.contrasts[place(t, other, trial.treatments)];
      CHECK(one.range.lower >= -1);
      CHECK(one.range.upper <= 1);
      if (!one.told_apart) {
        CHECK_FALSE(one.can_claim());
        continue;
      }
      CHECK(one.range.lower <= one.estimate);
      CHECK(one.range.upper >= one.estimate);
      for (const double chance : {one.p_better, one.p_worth, one.p_worth_less, one.p_within}) {
        CHECK(chance >= -1e-12);
        CHECK(chance <= 1 + 1e-12);
      }
      CHECK(one.p_worth <= one.p_better + 1e-9);
      CHECK(one.p_worth_less <= 1 - one.p_better + 1e-9);
    }
  for (std::size_t i = 0; i < found.judged.size(); ++i) {
    const auto& one = found.contrasts[place(static_cast<int>(i) + 1, 0, trial.treatments)];
    const auto& judged = found.judged[i];
    CHECK((judged.claim != StandClaim::none) == (judged.ground == ClaimGround::decided));
    if (!one.can_claim()) CHECK(judged.claim == StandClaim::none);
    // Of a family no claim stands that would not stand by itself, and each has its estimate's sign.
    if (judged.claim == StandClaim::more) CHECK((one.estimate > 0 && one.range.lower > 0));
    if (judged.claim == StandClaim::fewer) CHECK((one.estimate < 0 && one.range.upper < 0));
  }
}

void check_labels_and_order(Random& random, const Trial& trial, const Answer& found) {
  const int treatments = trial.treatments;
  for (int t = 1; t < treatments; ++t)
    for (int other = 0; other < t; ++other)
      check_same(found.contrasts[place(t, other, treatments)],
                 found.contrasts[place(other, t, treatments)], true);
  // Treatments 0 and 1 change their labels, strata their names, and units come in another order.
  Trial turned = trial;
  for (auto& unit : turned.units) {
    if (unit.treatment < 2) unit.treatment = 1 - unit.treatment;
    unit.stratum = 7 - 3 * unit.stratum;
  }
  random.shuffle(std::span(turned.units));
  const Answer again = answer(turned);
  for (int t = 0; t < treatments; ++t) {
    const auto here = static_cast<std::size_t>(t),
               there = static_cast<std::size_t>(t < 2 ? 1 - t : t);
    CHECK_WITHIN(again.means[there], found.means[here], 1e-5);
    CHECK_WITHIN(again.ranges[there].lower, found.ranges[here].lower, 1e-4);
    CHECK_WITHIN(again.ranges[there].upper, found.ranges[here].upper, 1e-4);
  }
  check_same(found.contrasts[place(1, 0, treatments)], again.contrasts[place(1, 0, treatments)],
             true);
  if (treatments > 2)
    check_same(found.contrasts[place(2, 0, treatments)], again.contrasts[place(2, 1, treatments)],
               false);
}

// A tray more, equal to its treatment's mean in its stratum, of any size that can be.
void add_a_like_tray(Random& random, Trial& trial) {
  const auto like = trial.units[random.below(static_cast<std::uint32_t>(trial.units.size()))];
  std::int64_t up = 0, sown = 0;
  for (const auto& unit : trial.units)
    if (unit.treatment == like.treatment && unit.stratum == like.stratum) {
      up += unit.up;
      sown += unit.sown;
    }
  const auto whole = std::gcd(up, sown);
  const auto times = 1 + random.below(static_cast<std::uint32_t>(whole));
  trial.units.push_back({like.treatment, like.stratum, up / whole * times, sown / whole * times});
}

int trials_wanted() {
  const char* asked = std::getenv("PLUMULE_TRIALS");
  return asked ? std::max(1, std::atoi(asked)) : plumule::tests::rounds(300);
}

}  // namespace

TEST_CASE("of any trial: estimates in their ranges, claims with their signs, labels, order") {
  Random random(14);
  const int trials = trials_wanted();
  int claims = 0, without = 0, parted = 0, turned_round = 0;
  for (int i = 0; i < trials; ++i) {
    CAPTURE(i);
    Trial trial = any_trial(random);
    const Answer found = answer(trial);
    check_inside(trial, found);
    check_labels_and_order(random, trial, found);
    add_a_like_tray(random, trial);
    const Answer more = answer(trial);
    for (std::size_t j = 0; j < found.judged.size(); ++j) {
      const auto before = found.judged[j].claim;
      ++(is_claim(before) ? claims : without);
      parted += found.judged[j].ground == ClaimGround::not_told_apart ? 1 : 0;
      if (is_claim(before)) CHECK(more.judged[j].claim != mirrored(before));
      turned_round += is_claim(before) && more.judged[j].claim == mirrored(before) ? 1 : 0;
    }
  }
  CHECK(turned_round == 0);
  CHECK(claims > trials / 10);
  CHECK(without > trials / 10);
  CHECK(parted > trials / 400);
}
