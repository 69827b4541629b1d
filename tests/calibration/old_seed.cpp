// What old seed is best done with: what the choice loses over a season against knowing the truth,
// beside the common rule (ten seeds, 70 %); and how often sound seed is replaced and dead seed not.
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "drawn_lot.hpp"
#include "parts.hpp"
#include "stats/ageing/old_seed_choice.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

const RhoPrior towels = rho_from_beta(rho_b_towels_and_dishes);
constexpr double thicknesses[] = {1, 1.5, 2, 3, 4};

// A lot on the day of sowing, what was tested of it, and what is left.
struct Case {
  DrawnLot lot;
  double today = 0;
  double standard = 0.6;
  std::vector<AgedTest> tests;
  std::optional<double> times_left;

  double alive() const { return lot.alive(today); }
};

// One to eight years after harvest; a quarter never tested, the others by one or two towels of 10,
// 20 or 50 at any age; what shops must reach 50 to 80 %; of half of the lots the stock is recorded.
Case draw_case(Random& random, const AgeingWorld& world) {
  Case made;
  made.lot = draw_lot(random, world);
  made.today = days_in_year * (1 + 7 * random.unit());
  made.standard = 0.5 + 0.3 * random.unit();
  constexpr std::int64_t sizes[] = {10, 20, 50};
  const int tests = random.unit() < 0.25 ? 0 : random.unit() < 0.7 ? 1 : 2;
  for (int t = 0; t < tests; ++t)
    made.tests.push_back(
        draw_towel(random, made.lot, world, made.today * random.unit(), sizes[random.below(3)]));
  if (random.unit() < 0.5) made.times_left = 1 + 5 * random.unit();
  return made;
}

OldSeedChoice choice_of(const Case& one, const SeasonCosts& costs) {
  OldSeedQuestion question;
  question.standard = one.standard;
  question.costs = costs;
  question.times_left = one.times_left;
  for (const auto& test : one.tests)
    if (one.today - test.day < days_in_year) question.towel_within_year = true;
  const auto lot = one.tests.empty() ? AgedLot::untested(0, one.lot.rate(), towels)
                                     : AgedLot::tested(one.tests, one.lot.rate(), towels);
  return choose_for_old_seed(lot.points(one.today), question);
}

// What the truth makes of it.
double least_loss(const Case& one, const SeasonCosts& costs) {
  double least = season_loss(Way::replace, 1, one.alive(), one.standard, costs);
  for (const double times : thicknesses)
    if (times <= one.times_left.value_or(2))
      for (const Way way : {Way::sow, Way::sow_and_buy})
        least = std::min(least, season_loss(way, times, one.alive(), one.standard, costs));
  return least;
}

struct Season {
  double loss = 0;
  bool replaced = false, tested = false;
  Way way = Way::sow;
};

// As told: the test first where one is told, then what is told after it.
Season by_choice(Random& random, Case one, const AgeingWorld& world, const SeasonCosts& costs) {
  Season season;
  auto choice = choice_of(one, costs);
  if (choice.test_seeds > 0) {
    season.tested = true;
    season.loss += costs.test + costs.seed * static_cast<double>(choice.test_seeds);
    one.tests.push_back(draw_towel(random, one.lot, world, one.today, choice.test_seeds));
    choice = choice_of(one, costs);
  }
  season.way = choice.best.way;
  season.replaced = season.way == Way::replace;
  season.loss += season_loss(choice.best.way, choice.best.times, one.alive(), one.standard, costs);
  return season;
}

// Ten seeds in a towel: seven up and more, sow as usual; else replace.
Season by_common_rule(Random& random, const Case& one, const AgeingWorld& world,
                      const SeasonCosts& costs) {
  Season season;
  const auto towel = draw_towel(random, one.lot, world, one.today, 10);
  season.replaced = towel.count.up < 7;
  season.way = season.replaced ? Way::replace : Way::sow;
  season.loss =
      costs.test + 10 * costs.seed + season_loss(season.way, 1, one.alive(), one.standard, costs);
  return season;
}

struct Lots {
  double excess = 0, excess_common = 0;
  Rate tested, sound_replaced, sound_replaced_common;
};

Lots many_lots(int lots, const AgeingWorld& world, const SeasonCosts& costs, std::uint64_t seed) {
  Random random(seed);
  Lots made;
  for (int i = 0; i < lots; ++i) {
    const auto one = draw_case(random, world);
    const double least = least_loss(one, costs);
    const auto ours = by_choice(random, one, world, costs);
    const auto common = by_common_rule(random, one, world, costs);
    made.excess += (ours.loss - least) / lots;
    made.excess_common += (common.loss - least) / lots;
    made.tested.see(ours.tested ? 1 : 0);
    if (one.alive() < one.standard) continue;
    made.sound_replaced.see(ours.replaced ? 1 : 0);
    made.sound_replaced_common.see(common.replaced ? 1 : 0);
  }
  return made;
}

constexpr AgeingWorld worlds[] = {{"as listed", 1, 0.35},
                                  {"twice as fast", 2, 0.35},
                                  {"half as fast", 0.5, 0.35},
                                  {"as listed, 1 towel in 20 spoilt", 1, 0.35, 0.05}};

void by_costs(Report& report, const Effort& effort) {
  struct Priced {
    const char* name;
    SeasonCosts costs;
    bool barred = false;
  };
  SeasonCosts dear, cheap, near, far;
  dear.crop = 15;
  cheap.crop = 2.4;
  near.fetching = 0.1;
  far.fetching = 3;
  const Priced prices[] = {{"as they come", {}, true},
                           {"crop 2.5 times the worth", dear},
                           {"crop 0.4 times the worth", cheap},
                           {"packets at hand", near},
                           {"packets far away", far}};
  report.head({"lots age", "costs", "excess loss, packets", "of the common rule",
               "common rule = 100", "told to test first", "sound lots replaced",
               "by the common rule"});
  std::uint64_t seed = 17000;
  const int lots = effort.of(150, 2000);
  for (const auto& world : worlds)
    for (const auto& [name, costs, barred] : prices) {
      if (!effort.full && !barred) continue;
      const auto made = many_lots(lots, world, costs, ++seed);
      const double ratio = made.excess / made.excess_common;
      report.row({world.name, name, Report::number(3, made.excess),
                  Report::number(3, made.excess_common), Report::number(0, 100 * ratio),
                  Report::percent(made.tested.share()),
                  Report::percent(made.sound_replaced.share()),
                  Report::percent(made.sound_replaced_common.share())});
      if (barred)
        report.bar("excess loss of the common rule's, " + std::string(world.name), ratio, 0,
                   effort.full ? 0.5 : 0.7);
      report.bar("sound lots replaced, " + std::string(world.name) + ", " + name,
                 made.sound_replaced.share(), 0, 0.02 + effort.room(0.02, lots / 2.0));
    }
}

// Lots under 20 % alive with one towel of 20 laid within so many years, stock not recorded.
void nearly_dead(Report& report, const Effort& effort) {
  struct Told {
    Rate at_once, after_test;
  };
  report.say(
      "\nLots under 20 % alive, one towel of 20 laid within so many years, no stock recorded");
  report.say("(never thicker than twice then): told to replace, or to sow with a fresh packet at");
  report.say("hand, in per cent: at once, and after the test where one is told first. A towel of");
  report.say("more than a year ago allows no `replace`, and is renewed first. Barred: at once, of");
  report.say("towels laid within a year.");
  report.head({"lots age", "towel within, years", "told at once", "after the test"});
  std::uint64_t seed = 17500;
  for (const auto& world : worlds)
    for (const int years : {1, 2}) {
      const auto made = drawn<Told>(
          effort, 100, ++seed,
          [&](Random& random, Told& told) {
            Case one;
            do {
              one = draw_case(random, world);
            } while (one.alive() >= 0.20);
            one.times_left.reset();
            const double day = one.today - years * days_in_year * random.unit();
            one.tests = {draw_towel(random, one.lot, world, std::max(0.0, day), 20)};
            const SeasonCosts costs;
            const auto choice = choice_of(one, costs);
            told.at_once.see(choice.test_seeds == 0 && choice.best.way != Way::sow ? 1 : 0);
            told.after_test.see(by_choice(random, one, world, costs).way != Way::sow ? 1 : 0);
          },
          {&Told::at_once}, power_error);
      report.row({world.name, std::to_string(years), Report::percent(made.at_once.share()),
                  Report::percent(made.after_test.share())});
      if (years == 1)
        report.bar("nearly dead lots told to replace or buy, " + std::string(world.name),
                   made.at_once.share(), 0.80 - effort.rate_room(0.80, 100, power_error), 1);
    }
}

}  // namespace

void old_seed(Report& report, const Effort& effort) {
  report.heading("What to do with old seed");
  report.say("Lots one to eight years old, a quarter untested, the others with one or two towels");
  report.say("of 10, 20 or 50 of any age; standards 50 to 80 %; stock recorded of half of them.");
  report.say("Loss over knowing the truth, in packets. The common rule: ten seeds in a towel,");
  report.say("seven up sow, else replace. A spoilt towel shows none to seven tenths of what is");
  report.say("alive. Bars: half of the common rule's loss at the default costs; sound lots (at or");
  report.say("above their standard) replaced 2 %.");
  by_costs(report, effort);
  nearly_dead(report, effort);
}

}  // namespace plumule::calibration
