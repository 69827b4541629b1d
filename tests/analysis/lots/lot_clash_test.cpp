// Tests of one lot that cannot both be right: when they clash, what settles it, and what is said
// until then.
#include "analysis/lots/lot_clash.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "stats/ageing/aged_lot.hpp"
#include "stats/trays/fresh_sowing.hpp"
#include "stats/trays/tray_aware.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::lot_viability;
using analysis::LotViability;
using analysis::TestUse;
using analysis::ViabilityCode;
using analysis::ViabilityGround;

namespace {

// Sown on that day, twelve days later done.
records::History towel(const std::string& label, int day, std::int64_t up, std::int64_t of) {
  auto test = ended(history(label, of, {{5, up / 2}, {10, up}}), 12);
  test.sowing.setting = records::Setting::towel;
  test.sowing.counting = records::Counting::root_seen;
  const std::chrono::days later(day);
  test.sowing.sown.date += later;
  for (auto& count : test.counts) count.at.date += later;
  test.sowing.ending->at.date += later;
  return test;
}

LotViability asked(const std::vector<records::History>& tests, std::optional<double> standard = 0.8,
                   bool irreplaceable = false) {
  records::Lot lot;
  lot.code = "L";
  lot.irreplaceable = irreplaceable;
  analysis::ViabilityQuestion question;
  question.today = on_day(170);
  question.standard = standard;
  return lot_viability(lot, tests, question);
}

std::vector<TestUse> uses(const LotViability& finding) {
  std::vector<TestUse> list;
  for (const auto& test : finding.tests) list.push_back(test.use);
  return list;
}

const auto february = towel("T1", 0, 45, 50);
const auto may = towel("T2", 90, 25, 50);

using Uses = std::vector<TestUse>;
constexpr auto counted = TestUse::counted;
constexpr auto clashes = TestUse::clashes;

}  // namespace

TEST_CASE("45 of 50 in February and 25 of 50 in May are not pooled") {
  const auto finding = asked({may, february});
  REQUIRE(finding.clash.has_value());
  const auto& clash = *finding.clash;
  CHECK(clash.older.tests == std::vector<std::string>{"T1"});
  CHECK(clash.newer.tests == std::vector<std::string>{"T2"});
  CHECK(clash.later.empty());
  CHECK(&clash.lower() == &clash.newer);
  const stats::TrayCount older[] = {{45, 50}}, newer[] = {{25, 50}};
  const auto prior = stats::rho_from_beta(49);
  // Seed of which no list knows: three years, give or take, of which three months are gone.
  const std::vector<stats::AgedTest> first = {{0, stats::Ground::towel, {45, 50}}};
  auto rate = stats::ageing_by_lists(3);
  rate.log_sd = 1;
  const auto aged = stats::AgedLot::tested(first, rate, prior).points(90);
  CHECK_CLOSE(clash.p, stats::fresh_test_mid_p(aged, newer), 1e-9);
  CHECK(clash.p > stats::fresh_test_mid_p(stats::lot_belief(older, prior, 50), newer));
  CHECK(clash.p < 0.01);
  const stats::TrayAwarePosterior lower(newer, prior);
  CHECK_CLOSE(clash.newer.stand.interval->upper, lower.interval().upper, 1e-12);
  CHECK_CLOSE(*clash.newer.p_meets, lower.probability_at_least(0.8), 1e-12);
  CHECK(uses(finding) == Uses{clashes, clashes});
  CHECK(finding.stand.seeds == 0);
  CHECK_FALSE(finding.p_meets.has_value());
  CHECK_FALSE(finding.any_number.has_value());
  const auto& verdict = finding.verdict;
  CHECK(verdict.code == ViabilityCode::test_more);
  CHECK(verdict.ground == ViabilityGround::tests_clash);
  CHECK_CLOSE(verdict.times.value_or(0), 1.6, 1e-12);  // 80 % / 50 %
  CHECK_CLOSE(*verdict.p_short, 1 - *clash.newer.p_meets, 1e-12);
  REQUIRE(verdict.more_seeds.has_value());
  CHECK(*verdict.decides >= 0.6);
  CHECK_CLOSE(*verdict.decides, chance_to_settle(clash, prior, *verdict.more_seeds), 1e-12);
}

TEST_CASE("tests that may both be right are taken together as ever") {
  const auto finding = asked({towel("T1", 0, 42, 50), towel("T2", 90, 38, 50)});
  CHECK_FALSE(finding.clash.has_value());
  CHECK(finding.stand.emerged == 80);
  CHECK(uses(finding) == Uses{counted, counted});
  // Sowings of one day are one test, however they differ.
  CHECK_FALSE(asked({february, towel("T2", 0, 25, 50)}).clash.has_value());
  // The fewer the seeds, the more they may differ.
  CHECK_FALSE(asked({towel("T1", 0, 9, 10), towel("T2", 90, 5, 10)}).clash.has_value());
  CHECK(asked({towel("T1", 0, 9, 10), towel("T2", 90, 0, 10)}).clash.has_value());
}

TEST_CASE("a third test that agrees with one of the two settles it, either way") {
  const auto sound = asked({february, may, towel("T3", 120, 18, 20)});
  CHECK_FALSE(sound.clash.has_value());
  CHECK(uses(sound) == Uses{counted, clashes, counted});
  CHECK(sound.stand.emerged == 63);
  CHECK(sound.stand.seeds == 70);
  CHECK(sound.verdict.code == ViabilityCode::sow_as_usual);
  const auto poor = asked({february, may, towel("T3", 120, 10, 20)});
  CHECK_FALSE(poor.clash.has_value());
  CHECK(uses(poor) == Uses{clashes, counted, counted});
  CHECK(poor.stand.emerged == 35);
  CHECK(poor.verdict.code == ViabilityCode::sow_thicker);
}

TEST_CASE("replace is never said before a third test") {
  const auto dead = towel("T2", 90, 2, 50);
  for (const bool irreplaceable : {false, true}) {
    const auto open = asked({february, dead}, 0.8, irreplaceable);
    CHECK(open.verdict.code == ViabilityCode::test_more);
    CHECK(open.verdict.meanwhile == ViabilityGround::too_low);
    CHECK_FALSE(open.verdict.times.has_value());  // thicker would not make up for it
    const auto settled = asked({february, dead, towel("T3", 120, 1, 20)}, 0.8, irreplaceable);
    CHECK(settled.verdict.code ==
          (irreplaceable ? ViabilityCode::sow_in_two_goes : ViabilityCode::replace));
  }
}

TEST_CASE("a later test that agrees with both, or with neither, settles nothing") {
  const auto both = asked({february, may, towel("T3", 120, 4, 5)});
  REQUIRE(both.clash.has_value());
  REQUIRE(both.clash->later.size() == 1);
  CHECK(both.clash->later[0].tests == std::vector<std::string>{"T3"});
  CHECK(uses(both) == Uses{clashes, clashes, clashes});
  // What came since is taken together: with more of the same it tells.
  const auto more = asked({february, may, towel("T3", 120, 4, 5), towel("T4", 140, 18, 20)});
  CHECK(uses(more) == Uses{counted, clashes, counted, counted});
  // Half, then almost none, then half again: the second of its kind settles it.
  const auto neither = asked({february, may, towel("T3", 120, 2, 50)});
  REQUIRE(neither.clash.has_value());
  CHECK(neither.clash->later.size() == 1);
  CHECK(neither.clash->lower().tests == std::vector<std::string>{"T3"});
  const auto again = asked({february, may, towel("T3", 120, 2, 50), towel("T4", 140, 26, 50)});
  CHECK(uses(again) == Uses{clashes, counted, clashes, counted});
}

TEST_CASE("a test that runs is waited for, and is no side of the clash yet") {
  auto third = towel("T3", 160, 2, 20);
  third.sowing.ending.reset();
  third.counts.pop_back();  // looked at on day 5 only
  const auto finding = asked({february, may, third});
  REQUIRE(finding.clash.has_value());
  CHECK(finding.clash->later.empty());
  CHECK(finding.verdict.code == ViabilityCode::wait);
  CHECK(finding.verdict.ground == ViabilityGround::tests_clash);
  CHECK(finding.verdict.look_again.has_value());
  CHECK(uses(finding) == Uses{clashes, clashes, counted});
}

TEST_CASE("tests years apart clash only where no ageing explains it") {
  const auto years = [](int first, int second) {
    records::Lot lot;
    lot.code = "L";
    lot.crop = "onion";
    analysis::ViabilityQuestion question;
    question.today = on_day(170);
    return lot_viability(
        lot, std::vector{towel("T1", -3 * 365, first, 50), towel("T2", 90, second, 50)}, question);
  };
  CHECK_FALSE(years(45, 12).clash.has_value());
  CHECK(uses(years(45, 12)) == Uses{TestUse::older, counted});
  CHECK(years(12, 45).clash.has_value());  // seed does not rise from the dead
}

TEST_CASE("without a standard tests clash all the same") {
  const auto finding = asked({february, may}, std::nullopt);
  REQUIRE(finding.clash.has_value());
  CHECK(finding.verdict.code == ViabilityCode::test_more);
  CHECK_FALSE(finding.verdict.meanwhile.has_value());
  CHECK_FALSE(finding.clash->older.p_meets.has_value());
}

TEST_CASE("either is enough where even the lower meets the standard") {
  const auto finding = asked({towel("T1", 0, 100, 100), towel("T2", 90, 75, 100)}, 0.5);
  REQUIRE(finding.clash.has_value());
  CHECK(finding.verdict.code == ViabilityCode::test_more);
  CHECK(finding.verdict.meanwhile == ViabilityGround::meets);
  CHECK_FALSE(finding.verdict.times.has_value());
}

TEST_CASE("hard coats that softened are no clash: what is alive must clash too") {
  auto hard = towel("T1", 0, 20, 50);
  records::Assessment found;
  found.on = on_day(10);
  found.outcome = records::Outcome::hard;
  found.units = 28;
  hard.assessments = {found};
  const auto softened = asked({hard, towel("T2", 90, 46, 50)});
  CHECK_FALSE(softened.clash.has_value());
  const auto dead = asked({hard, towel("T2", 90, 1, 50)});
  CHECK(dead.clash.has_value());
}

TEST_CASE("the sides show what chance they have to be told apart") {
  const auto finding = asked({february, may});
  const auto prior = stats::rho_from_beta(49);
  double last = 0;
  for (const int n : {5, 20, 50, 100}) {
    const double settles = chance_to_settle(*finding.clash, prior, n);
    CHECK(settles >= 0);
    CHECK(settles <= 1);
    if (n == 5 || n == 100) CHECK(settles > last);
    last = settles;
  }
}
