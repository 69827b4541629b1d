// What to do with old seed: losses by hand, the choice and the worth of a test by enumeration, and
// when `replace` may and may not be said.
#include "stats/ageing/old_seed_choice.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "stats/ageing/aged_lot.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using stats::season_loss;
using stats::Way;

constexpr auto cover = stats::Ground::under_cover;

namespace {

stats::OldSeedChoice choose_by(const std::vector<stats::AgedTest>& tests,
                               const stats::OldSeedQuestion& question) {
  const auto lot =
      stats::AgedLot::tested(tests, stats::ageing_by_lists(3), stats::rho_from_beta(49));
  return stats::choose_for_old_seed(lot.points(lot.reference_day()), question);
}

stats::OldSeedChoice choose(std::int64_t up, std::int64_t sown, stats::Ground ground,
                            const stats::OldSeedQuestion& question) {
  return choose_by({{0, ground, {up, sown}}}, question);
}

bool offered(const stats::OldSeedChoice& choice, Way way) {
  return std::any_of(choice.all.begin(), choice.all.end(),
                     [&](const auto& one) { return one.way == way; });
}

double thickest(const stats::OldSeedChoice& choice) {
  double most = 0;
  for (const auto& one : choice.all)
    if (one.way == Way::sow) most = std::max(most, one.times);
  return most;
}

}  // namespace

TEST_CASE("a season's loss by hand") {
  const stats::SeasonCosts costs;
  // Standard 0.6: of seed 0.45 alive a quarter is missing as usual, and half as thick again gives
  // 1.125 of the stand.
  CHECK_CLOSE(season_loss(Way::sow, 1, 0.45, 0.6, costs), 6 * 0.25, 1e-12);
  CHECK_CLOSE(season_loss(Way::sow, 1.5, 0.45, 0.6, costs), 6 * 0.02 * 0.125, 1e-12);
  CHECK_CLOSE(season_loss(Way::sow, 1, 0, 0.6, costs), 0.3 * 6 + 1 + 2.0 / 3, 1e-12);
  CHECK_CLOSE(season_loss(Way::sow_and_buy, 1, 0.45, 0.6, costs),
              2.0 / 3 + (0.25 + 0.75 * 0.5) + 0.15 * 6 * 0.25, 1e-12);
  CHECK_CLOSE(season_loss(Way::sow_and_buy, 1, 0, 0.6, costs), 2.0 / 3 + 1 + 0.15 * 6, 1e-12);
  CHECK_CLOSE(season_loss(Way::replace, 1, 0.45, 0.6, costs), 1 + 2.0 / 3, 1e-12);
}

TEST_CASE("the least expected loss, and what a test saves, by enumeration") {
  // Two lots it may be, seeds independent.
  const std::vector<stats::LotPoint> lot = {{0.2, 0, 0.3}, {0.7, 0, 0.7}};
  stats::OldSeedQuestion question;
  question.standard = 0.6;
  question.times_left = 1.5;
  const auto choice = stats::choose_for_old_seed(lot, question);
  REQUIRE(choice.all.size() == 4);
  struct Open {
    Way way;
    double times;
  };
  const std::vector<Open> open = {
      {Way::sow, 1}, {Way::sow, 1.5}, {Way::sow_and_buy, 1}, {Way::sow_and_buy, 1.5}};
  double least = 1e9;
  for (std::size_t i = 0; i < open.size(); ++i) {
    double loss = 0;
    for (const auto& point : lot)
      loss += point.weight * season_loss(open[i].way, open[i].times, point.p, 0.6, question.costs);
    CHECK_CLOSE(choice.all[i].loss, loss, 1e-12);
    least = std::min(least, loss);
  }
  CHECK_CLOSE(choice.best.loss, least, 1e-12);
  // After a towel `replace` is open too, once the better lot has a chance of 0.10 at most.
  double best_saving = 0;
  for (const int n : {10, 20, 40}) {
    double after = 0;
    for (int x = 0; x <= n; ++x) {
      const double ways =
          std::exp(std::lgamma(n + 1.0) - std::lgamma(x + 1.0) - std::lgamma(n - x + 1.0));
      const double poor = 0.3 * ways * std::pow(0.2, x) * std::pow(0.8, n - x);
      const double good = 0.7 * ways * std::pow(0.7, x) * std::pow(0.3, n - x);
      double least_here = std::numeric_limits<double>::infinity();
      for (const auto& one : open)
        least_here = std::min(least_here,
                              poor * season_loss(one.way, one.times, 0.2, 0.6, question.costs) +
                                  good * season_loss(one.way, one.times, 0.7, 0.6, question.costs));
      if (good <= 0.10 * (poor + good))
        least_here = std::min(least_here, (poor + good) * (5.0 / 3));
      after += least_here;
    }
    best_saving = std::max(best_saving, least - after - 1.0 / 6 - 0.01 * n);
  }
  REQUIRE(best_saving > 0);
  CHECK(choice.test_seeds > 0);
  CHECK_CLOSE(choice.test_saves, best_saving, 1e-9);
}

TEST_CASE("sound seed is sown as usual, poor seed thicker, and no further than it lasts") {
  stats::OldSeedQuestion question;
  question.standard = 0.55;
  question.towel_within_year = true;
  CHECK(choose(48, 50, stats::Ground::towel, question).best.times == 1);
  CHECK(choose(48, 50, stats::Ground::towel, question).best.way == Way::sow);
  const auto poor = choose(18, 50, stats::Ground::towel, question);
  CHECK(poor.best.way == Way::sow);
  CHECK(poor.best.times == 2);
  CHECK(thickest(poor) == 2);  // the stock is not known
  question.times_left = 10;
  CHECK(thickest(choose(18, 50, stats::Ground::towel, question)) == 4);
  question.times_left = 0.5;
  const auto little = choose(18, 50, stats::Ground::towel, question);
  CHECK(thickest(little) == 0.5);
}

TEST_CASE("dead seed is replaced on the word of a towel, never on that of a row or its age") {
  stats::OldSeedQuestion question;
  question.standard = 0.55;
  question.towel_within_year = true;
  CHECK(choose(1, 20, stats::Ground::towel, question).best.way == Way::replace);
  question.towel_within_year = false;
  const auto old = choose(1, 20, stats::Ground::towel, question);
  CHECK_FALSE(offered(old, Way::replace));
  CHECK(old.best.way == Way::sow_and_buy);
  CHECK_FALSE(offered(choose(0, 100, stats::Ground::outdoors, question), Way::replace));
  question.sown_twice_under_cover = true;
  CHECK(offered(choose_by({{0, cover, {0, 60}}, {9, cover, {0, 60}}}, question), Way::replace));
  CHECK_FALSE(
      offered(choose_by({{0, cover, {0, 60}}, {9, cover, {30, 60}}}, question), Way::replace));
  question.towel_within_year = true;
  question.tests_clash = true;
  CHECK_FALSE(offered(choose(1, 20, stats::Ground::towel, question), Way::replace));
  question.tests_clash = false;
  question.irreplaceable = true;
  const auto own = choose(1, 20, stats::Ground::towel, question);
  CHECK_FALSE(offered(own, Way::replace));
  CHECK_FALSE(offered(own, Way::sow_and_buy));
}

TEST_CASE("no more is tested than there is to spare, and nothing where it cannot pay") {
  stats::OldSeedQuestion question;
  question.standard = 0.55;
  const auto free = choose(5, 10, stats::Ground::towel, question);
  question.seeds_to_spare = 9;
  CHECK(choose(5, 10, stats::Ground::towel, question).test_seeds == 0);
  question.seeds_to_spare = 15;
  CHECK(choose(5, 10, stats::Ground::towel, question).test_seeds <= 10);
  CHECK(free.test_saves >= 0);
  question.seeds_to_spare.reset();
  CHECK(choose(97, 100, stats::Ground::towel, question).test_seeds == 0);
}

TEST_CASE("what cannot be asked is refused") {
  const std::vector<stats::LotPoint> none, lot = {{0.5, 0, 1}};
  stats::OldSeedQuestion question;
  question.standard = 0.55;
  CHECK_THROWS_AS(stats::choose_for_old_seed(none, question), std::domain_error);
  question.times_left = 0;
  CHECK_THROWS_AS(stats::choose_for_old_seed(lot, question), std::domain_error);
  question.times_left = 1;
  question.costs.crop = -1;
  CHECK_THROWS_AS(stats::choose_for_old_seed(lot, question), std::domain_error);
  question.costs.crop = 6;
  question.standard = 0;
  CHECK_THROWS_AS(stats::choose_for_old_seed(lot, question), std::domain_error);
}
