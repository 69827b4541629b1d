// A lot's viability against published minima and exact limits, and the rules of its verdict.
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
  CHECK_CLOSE(*finding.p_meets, posterior.probability_at_least(0.8), 1e-12);
  CHECK_CLOSE(finding.stand.interval->lower, posterior.interval().lower, 1e-12);
  CHECK_CLOSE(finding.lower_limit->lower, posterior.interval(0.95, stats::Side::lower).lower,
              1e-12);
}

TEST_CASE("the verdict goes by the chance to meet the standard") {
  const auto verdict = [](std::int64_t up, std::int64_t of, double standard) {
    return lot_viability(lot_of(""), std::vector{towel("T", of, up)}, asked(standard)).verdict;
  };
  CHECK(verdict(98, 100, 0.8).code == ViabilityCode::sow_as_usual);
  CHECK(verdict(55, 100, 0.8).code == ViabilityCode::sow_thicker);
  CHECK(verdict(55, 100, 0.8).times.value_or(0) > 1.4);
  CHECK(verdict(5, 100, 0.8).code == ViabilityCode::replace);
  const auto undecided = verdict(7, 10, 0.8);
  CHECK(undecided.code == ViabilityCode::test_more);
  REQUIRE(undecided.decides.has_value());
  CHECK(*undecided.decides > 0);
  CHECK(*undecided.decides <= 1);
  CHECK(undecided.stand_if_wrong.value_or(2) < 1);
}

TEST_CASE("a lot that can't be replaced is never told to be") {
  auto lot = lot_of("lettuce");
  lot.irreplaceable = true;
  for (const std::int64_t up : {0, 1, 5, 20, 60, 100}) {
    const auto verdict = lot_viability(lot, std::vector{towel("T", 100, up)}, asked()).verdict;
    CHECK(verdict.code != ViabilityCode::replace);
  }
  CHECK(lot_viability(lot, std::vector{towel("T", 100, 0)}, asked()).verdict.code ==
        ViabilityCode::sow_all);
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
  CHECK(carrots(settled, 47).verdict.code == ViabilityCode::replace);
}

TEST_CASE("a sowing ended by the grower counts, and one that was cut short says so") {
  const auto unseen = carrots(ended(carrot_row({{3, 4}}), 30), 30);
  CHECK(unseen.verdict.code == ViabilityCode::replace);
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

TEST_CASE("near enough says the limit by which it is judged") {
  const auto finding = lot_viability(lot_of(""), std::vector{towel("T", 50, 39)}, asked(0.7));
  REQUIRE(finding.verdict.ground == ViabilityGround::near_enough);
  const stats::TrayCount counts[] = {{39, 50}};
  const stats::TrayAwarePosterior posterior(counts, stats::rho_from_beta(49));
  CHECK_CLOSE(*finding.verdict.sure_of, posterior.interval(0.9, stats::Side::lower).lower, 1e-12);
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
  auto finding = lot_viability(lot_of("bean"), tests, asked());
  CHECK(finding.standard->counts_hard);
  CHECK_CLOSE(*finding.p_meets, living, 1e-12);
  CHECK_CLOSE(*finding.p_now, now, 1e-12);
  CHECK_CLOSE(*finding.p_alive, living, 1e-12);
  CHECK(finding.alive->emerged == 48);
  CHECK(finding.stand.emerged == 20);
  CHECK(finding.tests[0].hard == 28);
  CHECK(finding.verdict.code == ViabilityCode::sow_thicker);
  CHECK(finding.verdict.ground == ViabilityGround::hard_seed);
  CHECK_CLOSE(*finding.verdict.p_short, 1 - now, 1e-9);
  CHECK_CLOSE(*finding.verdict.times, 1.8, 1e-12);  // 70 % / 40 %, up to a tenth
  CHECK_FALSE(finding.verdict.times_nicked.has_value());
  finding = lot_viability(lot_of("bean"), tests, asked(0.7));
  CHECK_FALSE(finding.standard->counts_hard);
  CHECK_CLOSE(*finding.p_meets, now, 1e-12);
  CHECK_CLOSE(*finding.p_alive, living, 1e-12);
  CHECK(finding.verdict.ground == ViabilityGround::hard_seed);
  auto labelled = lot_of("moonweed");
  labelled.label_germination = 0.7;
  CHECK_CLOSE(*lot_viability(labelled, tests, asked()).p_meets, now, 1e-12);
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
