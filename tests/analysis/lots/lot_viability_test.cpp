// A lot's viability against published minima and exact limits, at its age, and the rules of its
// verdict.
#include "analysis/lots/lot_viability.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "analysis/histories.hpp"
#include "stats/trays/tray_aware.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::lot_viability;
using analysis::TestUse;
using analysis::ViabilityCode;
using analysis::ViabilityGround;

namespace {

records::History towel(const std::string& label, std::int64_t units, std::int64_t up) {
  auto test = ended(history(label, units, {{5, up / 2}, {10, up}}), 12);
  test.sowing.setting = records::Setting::towel;
  test.sowing.counting = records::Counting::root_seen;
  return test;
}

records::Lot lot_of(const std::string& crop) {
  records::Lot lot;
  lot.code = "L";
  lot.crop = crop;
  return lot;
}

analysis::ViabilityQuestion asked(std::optional<double> standard = {}) {
  analysis::ViabilityQuestion question;
  question.today = on_day(20);
  question.standard = standard;
  return question;
}

// As on the day the tests were laid, when they have no age.
analysis::ViabilityQuestion asked_at_once(std::optional<double> standard = {}) {
  auto question = asked(standard);
  question.as_of = on_day(0);
  return question;
}

}  // namespace

TEST_CASE("the standard is the crop's published minimum, else the label, else as given") {
  // 7 CFR 201.31: lettuce 80, pepper 55, carrot 55, cucumber 80.
  const auto standard = [](const std::string& crop) {
    return lot_viability(lot_of(crop), std::vector{towel("T", 10, 9)}, asked()).standard;
  };
  CHECK_CLOSE(standard("lettuce")->fraction, 0.80, 1e-12);
  CHECK_CLOSE(standard("pepper")->fraction, 0.55, 1e-12);
  CHECK_CLOSE(standard("Carrot")->fraction, 0.55, 1e-12);
  CHECK_CLOSE(standard("cucumber")->fraction, 0.80, 1e-12);
  CHECK_FALSE(standard("moonweed").has_value());
  auto labelled = lot_of("moonweed");
  labelled.label_germination = 0.9;
  const auto finding = lot_viability(labelled, std::vector{towel("T", 10, 9)}, asked());
  CHECK_CLOSE(finding.standard->fraction, 0.9, 1e-12);
  CHECK(finding.standard->by == analysis::LotStandard::By::label);
}

TEST_CASE("ten seeds: exact limits of the published table") {
  // One-sided 95 % lower limits and two-sided intervals of Clopper-Pearson for x of 10, computed
  // by two programs (interval tables of tests/reference/statistics).
  const struct {
    std::int64_t x;
    double lower, upper, one_sided;
  } table[] = {{10, 0.6915, 1, 0.7411},     {9, 0.5550, 0.9975, 0.6058},
               {7, 0.3475, 0.9333, 0.3934}, {5, 0.1871, 0.8129, 0.2224},
               {1, 0.0025, 0.4450, 0.0051}, {0, 0, 0.3085, 0}};
  for (const auto& row : table) {
    const auto finding =
        lot_viability(lot_of("lettuce"), std::vector{towel("T", 10, row.x)}, asked());
    CHECK_WITHIN(finding.stand.intervals[2].lower, row.lower, 0.00005);
    CHECK_WITHIN(finding.stand.intervals[2].upper, row.upper, 0.00005);
    CHECK_WITHIN(finding.lower_exact->lower, row.one_sided, 0.00005);
    CHECK_WITHIN(*finding.best_lower, 0.7411344491, 1e-9);
  }
}

TEST_CASE("seeds that would show a standard, all up: the published counts") {
  // 0.50: 5, 0.60: 6, 0.70: 9, 0.80: 14, 0.85: 19, 0.90: 29 (exact binomial, 95 % one-sided).
  const std::pair<double, int> table[] = {{0.5, 5},  {0.6, 6},   {0.7, 9},
                                          {0.8, 14}, {0.85, 19}, {0.9, 29}};
  for (const auto& [standard, seeds] : table)
    CHECK(
        lot_viability(lot_of(""), std::vector{towel("T", 10, 9)}, asked(standard)).seeds_to_show ==
        seeds);
}

TEST_CASE("the chance to meet a standard is of the posterior that gives the interval") {
  const std::vector tests = {towel("T1", 10, 9), towel("T2", 10, 8)};
  const auto finding = lot_viability(lot_of("lettuce"), tests, asked());
  const stats::TrayCount counts[] = {{9, 10}, {8, 10}};
  const stats::TrayAwarePosterior posterior(counts, stats::rho_from_beta(49));
  CHECK(*finding.p_meets < posterior.probability_at_least(0.8));  // twenty days on
  CHECK_WITHIN(*lot_viability(lot_of("lettuce"), tests, asked_at_once()).p_meets,
               posterior.probability_at_least(0.8), 1e-3);
  CHECK_CLOSE(finding.stand.interval->lower, posterior.interval().lower, 1e-12);
  CHECK_CLOSE(finding.lower_limit->lower, posterior.interval(0.95, stats::Side::lower).lower,
              1e-12);
}

TEST_CASE("the verdict is what the season is expected to lose least by") {
  const auto verdict = [](std::int64_t up, std::int64_t of, double standard) {
    return lot_viability(lot_of(""), std::vector{towel("T", of, up)}, asked(standard)).verdict;
  };
  CHECK(verdict(98, 100, 0.8).code == ViabilityCode::sow_as_usual);
  CHECK_FALSE(verdict(98, 100, 0.8).times.has_value());
  CHECK(verdict(55, 100, 0.8).code == ViabilityCode::sow_thicker);
  CHECK(verdict(55, 100, 0.8).times.value_or(1) >= 1.5);
  CHECK(verdict(5, 100, 0.8).code == ViabilityCode::replace);
  CHECK(verdict(7, 10, 0.8).code == ViabilityCode::sow_thicker);
  CHECK(verdict(7, 10, 0.8).ground == ViabilityGround::undecided);
}

TEST_CASE("a test of years ago is no test of today: never replace, and a new test where it pays") {
  const auto asked_after = [](int years, std::int64_t up) {
    auto question = asked(0.6);
    question.today = on_day(0) + std::chrono::days(365 * years + 40);
    return lot_viability(lot_of("parsnip"), std::vector{towel("T", 20, up)}, question);
  };
  CHECK(asked_after(0, 18).verdict.code == ViabilityCode::sow_as_usual);
  CHECK(asked_after(0, 1).verdict.code == ViabilityCode::replace);
  const auto later = asked_after(5, 18);
  CHECK(later.verdict.code == ViabilityCode::test_more);
  CHECK(later.verdict.more_seeds.value_or(0) >= 10);
  CHECK(*later.p_meets < 0.2);
  CHECK(asked_after(5, 1).verdict.code != ViabilityCode::replace);
  REQUIRE(later.ageing.has_value());
  CHECK(later.ageing->newest_test_on == on_day(0));
  CHECK(later.ageing->method == analysis::AgeingMethod::seed_life);
  CHECK(*later.ageing->falls_p05 < *later.ageing->falls_p50);
  CHECK(*later.ageing->falls_p50 < *later.ageing->falls_p95);
  CHECK(*later.ageing->retest_by < later.as_of);
  CHECK(later.ageing->now.upper - later.ageing->now.lower > 0.5);
}

TEST_CASE("an untested lot has its age only, and the lists") {
  auto lot = lot_of("onion");
  lot.harvest_year = 2015;
  const auto finding = lot_viability(lot, {}, asked());
  CHECK(finding.verdict.code == ViabilityCode::no_test);
  REQUIRE(finding.ageing.has_value());
  CHECK_FALSE(finding.ageing->newest_test_on.has_value());
  CHECK(finding.ageing->expected < 0.3);
  CHECK_FALSE(lot_viability(lot_of("onion"), {}, asked()).ageing.has_value());
}

TEST_CASE("the stock is reckoned with: no thicker than it lasts, no test of what is to be sown") {
  auto row = history("R", 100, {});
  row.sowing.setting = records::Setting::row;
  row.sowing.sown.date = on_day(-300);
  row.sowing.ending = records::Ending{records::EndingKind::given_up, {on_day(-250), {}}, ""};
  const auto with = [&](std::int64_t left, std::int64_t up, int years) {
    auto question = asked(0.6);
    question.today = on_day(0) + std::chrono::days(365 * years + 40);
    question.seeds_left = left;
    return lot_viability(lot_of("parsnip"), std::vector{row, towel("T", 20, up)}, question);
  };
  CHECK(with(400, 5, 0).verdict.times.value_or(1) > 2);
  CHECK(with(150, 5, 0).verdict.times.value_or(1) <= 1.5);
  CHECK(with(400, 18, 5).last_use == 100);
  CHECK(with(400, 18, 5).seeds_spare == 300);
  CHECK(with(400, 18, 5).verdict.code == ViabilityCode::test_more);
  CHECK(with(105, 18, 5).seeds_spare == 5);
  CHECK(with(105, 18, 5).verdict.code != ViabilityCode::test_more);
  CHECK(with(-3, 18, 5).seeds_left == 0);
}

TEST_CASE("where the crop is worth much, a fresh packet is kept at hand sooner") {
  auto question = asked(0.6);
  question.seeds_left = 0;  // none to test
  const std::vector tests = {towel("T", 20, 5)};
  const auto lost = [&](double value) {
    question.price = 2;
    question.season_value = value;
    auto lot = lot_of("parsnip");
    return lot_viability(lot, tests, question).verdict.code;
  };
  CHECK(lost(2) == ViabilityCode::sow_thicker);
  CHECK((lost(60) == ViabilityCode::sow_and_buy || lost(60) == ViabilityCode::replace));
}

TEST_CASE("a lot that can't be replaced is never told to be") {
  auto lot = lot_of("lettuce");
  lot.irreplaceable = true;
  for (const std::int64_t up : {0, 1, 5, 20, 60, 100}) {
    const auto verdict = lot_viability(lot, std::vector{towel("T", 100, up)}, asked()).verdict;
    CHECK(verdict.code != ViabilityCode::replace);
  }
  CHECK(lot_viability(lot, std::vector{towel("T", 100, 0)}, asked()).verdict.code ==
        ViabilityCode::sow_in_two_goes);
}

TEST_CASE("which tests count: towels, untreated, of the last half year, counted alike") {
  auto old = towel("T1", 10, 10);
  old.sowing.sown.date = on_day(-400);
  for (auto& count : old.counts) count.at.date = on_day(-395);
  auto treated = towel("T2", 10, 10);
  treated.sowing.treatment = "soak";
  auto tray = history("A1", 50, {{8, 20}});
  const auto finding = lot_viability(lot_of("lettuce"),
                                     std::vector{old, treated, tray, towel("T3", 10, 7)}, asked());
  REQUIRE(finding.tests.size() == 4);
  CHECK(finding.tests[0].name == "T1");
  for (const auto& test : finding.tests) {
    if (test.name == "T1") CHECK(test.use == TestUse::older);
    if (test.name == "T2") CHECK(test.use == TestUse::treated);
    if (test.name == "A1") CHECK(test.use == TestUse::in_soil);
    if (test.name == "T3") CHECK(test.use == TestUse::counted);
  }
  CHECK(finding.stand.emerged == 7);
  CHECK(finding.stand.seeds == 10);
  const auto soil = lot_viability(lot_of("lettuce"), std::vector{tray}, asked());
  CHECK(soil.from_soil);
  CHECK(soil.stand.emerged == 20);
}

TEST_CASE("a test that is still running is waited for, unless it is good already") {
  const auto running = [](std::int64_t up) {
    auto test = history("T", 10, {{3, up}});
    test.sowing.setting = records::Setting::towel;
    auto question = asked(0.8);
    question.today = on_day(4);
    return lot_viability(lot_of(""), std::vector{test}, question).verdict.code;
  };
  CHECK(running(2) == ViabilityCode::wait);
  CHECK(running(10) == ViabilityCode::sow_as_usual);
}

TEST_CASE("in soil a test runs on past its give-up day while looks still find new ones") {
  // Lettuce in soil: the laboratory's seven days and a week more. Forty of 120 came on day 15.
  auto tray = history("A1", 120, {{4, 10}, {14, 20}, {15, 60}});
  tray.sowing.crop = "lettuce";
  const auto asked_on = [&](int day) {
    auto question = asked();
    question.today = on_day(day);
    return lot_viability(lot_of("lettuce"), std::vector{tray}, question);
  };
  CHECK(asked_on(15).verdict.code == ViabilityCode::wait);
  CHECK(asked_on(15).tests.front().give_up_day == 20);
  CHECK(asked_on(60).verdict.code != ViabilityCode::wait);  // nobody has looked since
  for (const int day : {18, 20}) {
    auto count = tray.counts.back();
    count.at.date = on_day(day);
    tray.counts.push_back(count);
  }
  CHECK(asked_on(20).verdict.code == ViabilityCode::sow_thicker);
}

namespace {

records::History carrot_row(std::vector<Total> totals) {
  auto row = history("CR", 200, totals);
  row.sowing.crop = "carrot";
  row.sowing.setting = records::Setting::row;
  return row;
}

analysis::LotViability carrots(const records::History& row, int today) {
  auto question = asked();
  question.today = on_day(today);
  return lot_viability(lot_of("carrot"), std::vector{row}, question);
}

}  // namespace

TEST_CASE(
    "an open sowing gives no verdict until a look on its give-up day, whatever the calendar") {
  // Carrot (Harrington & Minges 1954): 51 days at 5 C, 17 at 10 C; at 8 C by speed 23.4, twice 47.
  auto row = carrot_row({{13, 4}});
  CHECK(carrots(row, 16).verdict.code == ViabilityCode::wait);
  CHECK(carrots(row, 300).verdict.code == ViabilityCode::wait);
  CHECK(carrots(row, 300).tests[0].give_up_day == 21);  // 14 and a week, no temperature known
  CHECK(carrots(row, 16).verdict.look_again == on_day(21));
  CHECK(carrots(row, 300).verdict.look_again == on_day(300));
  CHECK_FALSE(carrots(row, 16).p_meets.has_value());
  CHECK(carrots(carrot_row({}), 16).verdict.code == ViabilityCode::wait);
  records::Temperature reading;
  reading.spot_c = 8;  // one reading, maybe of the cold end: it can only ask for more patience
  row.temperatures = {reading};
  CHECK(carrots(row, 30).tests[0].give_up_day == 47);
  reading.spot_c = 25;
  row.temperatures = {reading};
  CHECK(carrots(row, 30).tests[0].give_up_day == 21);
  reading.spot_c.reset();
  reading.min_c = 6;
  reading.max_c = 10;
  row.temperatures = {reading};
  CHECK(carrots(row, 30).tests[0].give_up_day == 47);
  auto later = carrot_row({{13, 4}, {46, 4}});
  later.temperatures = row.temperatures;
  CHECK(carrots(later, 60).verdict.code == ViabilityCode::wait);
  auto settled = carrot_row({{13, 4}, {47, 4}});
  settled.temperatures = row.temperatures;
  CHECK(carrots(settled, 47).verdict.code == ViabilityCode::test_more);  // no row says replace
  CHECK(carrots(settled, 47).verdict.more_seeds.value_or(0) >= 10);
}

TEST_CASE("a sowing ended by the grower counts, and one that was cut short says so") {
  const auto unseen = carrots(ended(carrot_row({{3, 4}}), 30), 30);
  CHECK(unseen.verdict.code == ViabilityCode::test_more);
  CHECK(unseen.tests[0].cut_short);
  CHECK(unseen.tests[0].ended_on == on_day(30));
  CHECK_FALSE(carrots(ended(carrot_row({{9, 4}, {22, 4}}), 22), 30).tests[0].cut_short);
  // Nothing new for five days, and for half the days to the last: done, as a trial would be.
  CHECK_FALSE(carrots(ended(carrot_row({{8, 150}, {13, 150}}), 14), 30).tests[0].cut_short);
  CHECK(carrots(ended(carrot_row({{8, 150}, {12, 150}}), 14), 30).tests[0].cut_short);
}

TEST_CASE("a test that failed is not counted against the lot") {
  // A towel that dried out says what the towel met with (common practice, no source).
  const auto dried = [](std::vector<Total> totals) {
    auto test = ended(history("W", 20, totals), 10, records::EndingKind::failed);
    test.sowing.setting = records::Setting::towel;
    test.sowing.ending->why = "dried out";
    return test;
  };
  for (const auto& test : {dried({}), dried({{7, 14}})}) {
    const auto alone = lot_viability(lot_of("onion"), std::vector{test}, asked());
    CHECK(alone.verdict.code == ViabilityCode::no_test);
    CHECK_FALSE(alone.p_meets.has_value());
    CHECK(alone.tests[0].use == TestUse::failed);
    CHECK(alone.tests[0].failed_why == "dried out");
    CHECK(alone.tests[0].emerged.has_value() == !test.counts.empty());
    CHECK_FALSE(alone.tests[0].running);
    auto sound = towel("T2", 50, 49);
    sound.sowing.counting = test.sowing.counting;
    const auto both = lot_viability(lot_of("onion"), std::vector{test, sound}, asked());
    CHECK(both.verdict.code == ViabilityCode::sow_as_usual);
    CHECK(both.stand.seeds == 50);
  }
}

TEST_CASE("the least one may be 90 % sure of is of the day asked about") {
  const auto finding =
      lot_viability(lot_of(""), std::vector{towel("T", 50, 39)}, asked_at_once(0.7));
  REQUIRE(finding.verdict.ground == ViabilityGround::near_enough);
  const stats::TrayCount counts[] = {{39, 50}};
  const stats::TrayAwarePosterior posterior(counts, stats::rho_from_beta(49));
  CHECK_WITHIN(*finding.verdict.sure_of, posterior.interval(0.9, stats::Side::lower).lower, 1e-3);
  CHECK_CLOSE(*finding.verdict.stand_if_wrong, *finding.verdict.sure_of / 0.7, 1e-12);
}

TEST_CASE("no test and no standard are said, not guessed") {
  CHECK(lot_viability(lot_of("lettuce"), {}, asked()).verdict.code == ViabilityCode::no_test);
  const auto finding = lot_viability(lot_of("moonweed"), std::vector{towel("T", 10, 9)}, asked());
  CHECK(finding.verdict.code == ViabilityCode::no_standard);
  CHECK_FALSE(finding.p_meets.has_value());
  CHECK_THROWS_AS(lot_viability(lot_of(""), {}, asked(1.5)), std::domain_error);
  // A posterior that has a density gives every seed alive no chance at all.
  CHECK_THROWS_AS(lot_viability(lot_of(""), {}, asked(1)), std::domain_error);
  auto perfect = lot_of("moonweed");
  perfect.label_germination = 1;
  const auto labelled = lot_viability(perfect, std::vector{towel("T", 400, 400)}, asked());
  CHECK_CLOSE(labelled.standard->fraction, 0.99, 1e-12);
  CHECK(*labelled.p_meets > 0);
}

namespace {

records::History hard_towel(std::int64_t units, std::int64_t up, std::int64_t hard) {
  auto test = towel("T", units, up);
  records::Assessment found;
  found.on = on_day(10);
  found.outcome = records::Outcome::hard;
  found.units = hard;
  test.assessments = {found};
  return test;
}

}  // namespace

TEST_CASE("hard seed counts for the least for sale, and not for a label or a figure of one's own") {
  // 7 CFR 201.31 (bean 70 %) is construed to include hard seed; by 201.21 and 201.30 the label
  // shows hard seed apart from the germination.
  const std::vector tests = {hard_towel(50, 20, 28)};
  const stats::TrayCount up[] = {{20, 50}};
  const stats::TrayCount alive[] = {{48, 50}};
  const double now =
      stats::TrayAwarePosterior(up, stats::rho_from_beta(49)).probability_at_least(0.7);
  const double living =
      stats::TrayAwarePosterior(alive, stats::rho_from_beta(49)).probability_at_least(0.7);
  auto finding = lot_viability(lot_of("bean"), tests, asked_at_once());
  CHECK(finding.standard->counts_hard);
  CHECK_WITHIN(*finding.p_meets, living, 1e-3);
  CHECK_WITHIN(*finding.p_now, now, 1e-3);
  CHECK_WITHIN(*finding.p_alive, living, 1e-3);
  CHECK(finding.alive->emerged == 48);
  CHECK(finding.stand.emerged == 20);
  CHECK(finding.tests[0].hard == 28);
  CHECK(finding.verdict.code == ViabilityCode::sow_thicker);
  CHECK(finding.verdict.ground == ViabilityGround::hard_seed);
  CHECK_WITHIN(*finding.verdict.p_short, 1 - now, 1e-3);
  CHECK_CLOSE(*finding.verdict.times, 1.8, 1e-12);  // 70 % / 40 %, up to a tenth
  CHECK_FALSE(finding.verdict.times_nicked.has_value());
  finding = lot_viability(lot_of("bean"), tests, asked_at_once(0.7));
  CHECK_FALSE(finding.standard->counts_hard);
  CHECK_WITHIN(*finding.p_meets, now, 1e-3);
  CHECK_WITHIN(*finding.p_alive, living, 1e-3);
  CHECK(finding.verdict.ground == ViabilityGround::hard_seed);
  auto labelled = lot_of("moonweed");
  labelled.label_germination = 0.7;
  CHECK_WITHIN(*lot_viability(labelled, tests, asked_at_once()).p_meets, now, 1e-3);
}

TEST_CASE("a lot whose seed is hard is nicked, not thrown out, and one that is dead is replaced") {
  const auto verdict = [](std::int64_t up, std::int64_t hard) {
    return lot_viability(lot_of("bean"), std::vector{hard_towel(50, up, hard)}, asked()).verdict;
  };
  CHECK(verdict(2, 0).code == ViabilityCode::replace);
  CHECK(verdict(2, 3).code == ViabilityCode::replace);
  CHECK(verdict(2, 45).code == ViabilityCode::nick_seed);
  const auto partly = verdict(2, 23);  // half are alive: nicked, and thicker still
  CHECK(partly.code == ViabilityCode::nick_seed);
  CHECK_CLOSE(partly.times_nicked.value_or(0), 1.4, 0.11);  // 70 % / 50 %
  CHECK(verdict(47, 3).code == ViabilityCode::sow_as_usual);
  CHECK(verdict(20, 3).code == ViabilityCode::sow_thicker);
  CHECK(verdict(20, 3).ground == ViabilityGround::falls_short);
  // No more can be hard than did not come up.
  const auto finding = lot_viability(lot_of("bean"), std::vector{hard_towel(50, 40, 28)}, asked());
  CHECK(finding.hard == 10);
  CHECK_FALSE(
      lot_viability(lot_of("bean"), std::vector{towel("T", 50, 20)}, asked()).p_alive.has_value());
}

TEST_CASE("the range after any number of tests is that of the batches, and wider") {
  const std::vector tests{towel("T1", 25, 20), towel("T2", 25, 17)};
  const auto finding = lot_viability(lot_of("lettuce"), tests, asked());
  REQUIRE(finding.any_number.has_value());
  const std::vector<stats::TrayCount> counts{{20, 25}, {17, 25}};
  const auto batches = stats::batch_sequence(counts, finding.stand.prior, 0.95);
  CHECK(finding.any_number->lower == batches.lower);
  CHECK(finding.any_number->upper == batches.upper);
  CHECK(finding.any_number->lower < finding.stand.interval->lower);
  CHECK(finding.any_number->upper > finding.stand.interval->upper);
}
