// What makes a comparison fair: both arms followed to the end, the last day fixed beforehand, jars
// counted as one, figures that belong together.
#include <doctest/doctest.h>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "analysis/summary/summary.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::compare_treatments;
using analysis::ComparisonQuestion;
using analysis::LeftOutWhy;

namespace {

ComparisonQuestion trial_to(int last_day, int today) {
  ComparisonQuestion question;
  question.subject = "T";
  question.trial = records::Trial{};
  question.trial->code = "T";
  question.trial->closes_on = on_day(last_day);
  question.today = on_day(today);
  return question;
}

// 40 sown; the control comes up steadily until day 19, the other is looked at no more after day 7.
std::vector<records::History> one_arm_dropped() {
  std::vector<records::History> trays;
  for (int i = 0; i < 3; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(
        in_trial(history("C" + name, 40, {{4, 8}, {7, 16 + i}, {10, 22}, {14, 29}, {19, 35 + i}}),
                 "untreated"));
    trays.push_back(in_trial(history("H" + name, 40, {{4, 8 + i}, {7, 15 + i}}), "hot"));
  }
  return trays;
}

// 50 sown, quiet from day 9 on.
records::History of_lot(const std::string& label, const std::string& treatment,
                        const std::string& lot, std::int64_t up, const std::string& block = "") {
  auto tray =
      in_trial(history(label, 50, {{5, up / 2}, {9, up}, {15, up}, {19, up}}), treatment, block);
  tray.sowing.lot = lot;
  return tray;
}

// 20 sown, up over four looks from `first`.
records::History jarred(const std::string& label, const std::string& treatment,
                        const std::string& jar, int first, std::int64_t up) {
  std::vector<Total> totals;
  for (int day = 1; day <= 20; ++day)
    totals.push_back({static_cast<double>(day),
                      day < first ? 0 : std::min<std::int64_t>(up, 5 * (day - first + 1))});
  return in_trial(history(label, 20, totals), treatment, "", jar);
}

std::vector<records::History> jar_trial(bool jars) {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    const std::string jar = i < 2 ? "1" : "2";
    trays.push_back(jarred("U" + name, "untreated", jars ? "u" + jar : "", 8 + i / 2, 15 + i % 2));
    trays.push_back(jarred("S" + name, "soak", jars ? "s" + jar : "", 5 + i / 2, 16 + i % 2));
  }
  return trays;
}

}  // namespace

TEST_CASE("trays looked at no more while others still came up have no final stand") {
  for (const bool ended_by_hand : {false, true}) {
    auto trays = one_arm_dropped();
    if (ended_by_hand)
      for (auto& tray : trays)
        if (tray.sowing.treatment == "hot") tray = ended(tray, 7);
    const auto answer = compare_treatments(trays, trial_to(20, 30));
    REQUIRE(answer.layout.left_out.size() == 3);
    for (const auto& out : answer.layout.left_out) CHECK(out.why == LeftOutWhy::not_followed);
    const auto& contrast = answer.contrasts.front();
    CHECK(contrast.stand.units == 0);
    CHECK(contrast.code == "too-small");
    CHECK_FALSE(contrast.speed.mean_days.difference.difference.has_value());
  }
}

TEST_CASE("a tray at rest long before others had done keeps its final stand") {
  auto trays = one_arm_dropped();
  trays.push_back(in_trial(history("R", 40, {{3, 30}, {8, 30}}), "hot"));  // five days quiet
  trays.push_back(in_trial(history("A", 40, {{3, 30}, {5, 40}}), "hot"));  // all up
  trays.push_back(in_trial(history("N", 40, {{3, 0}, {8, 0}}), "hot"));    // nothing yet
  auto failed = ended(in_trial(history("F", 40, {{3, 1}}), "hot"), 4, records::EndingKind::failed);
  trays.push_back(failed);  // dried out: a result
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  std::vector<std::string> out;
  for (const auto& left : answer.layout.left_out) out.push_back(left.sowing);
  CHECK(out == std::vector<std::string>{"H0", "H1", "H2", "N"});
}

TEST_CASE("a last day moved after the first count closes nothing") {
  auto trays = one_arm_dropped();
  auto question = trial_to(7, 8);
  question.trial->moved = records::LastDayMoved{on_day(25), on_day(7)};
  for (auto& tray : trays)
    while (tray.counts.back().at.date > on_day(7)) tray.counts.pop_back();
  const auto moved = compare_treatments(trays, question);
  CHECK(moved.state.open());
  CHECK(moved.state.planned_last_day == on_day(25));
  CHECK(moved.contrasts.front().code == "open");
  question.trial->moved.reset();
  CHECK_FALSE(compare_treatments(trays, question).state.open());
  question.trial->moved = records::LastDayMoved{std::nullopt, on_day(7)};  // none was planned
  const auto unplanned = compare_treatments(trays, question);
  CHECK(unplanned.state.open());
  CHECK(unplanned.state.closing.source == stats::PlannedDay::four_weeks);
}

TEST_CASE("seed that shared a jar is one unit in every test and error") {
  const auto trays = compare_treatments(jar_trial(false), trial_to(20, 30));
  const auto jars = compare_treatments(jar_trial(true), trial_to(20, 30));
  const auto& by_tray = trays.contrasts.front();
  const auto& by_jar = jars.contrasts.front();
  CHECK(by_jar.stand.units == 2);
  CHECK_WITHIN(by_jar.stand.randomisation->smallest_p, 1.0 / 3, 1e-12);
  // Two and two jars: 6 drawings of lots, a mirror image each; all soaked jars are sooner.
  REQUIRE(by_jar.speed.log_rank.has_value());
  CHECK_WITHIN(by_jar.speed.log_rank->p_sowings, 1.0 / 3, 1e-12);
  CHECK_WITHIN(by_tray.speed.log_rank->p_sowings, 2.0 / 70, 1e-12);
  REQUIRE(by_jar.speed.time_ratio.has_value());
  CHECK(by_jar.speed.time_ratio->df == 2);
  CHECK(by_tray.speed.time_ratio->df == 6);
  CHECK_CLOSE(by_jar.speed.time_ratio->ratio, by_tray.speed.time_ratio->ratio, 1e-12);
  CHECK(*by_jar.speed.time_ratio->upper > *by_tray.speed.time_ratio->upper);
  CHECK(jars.treatments.front().days.between_sowings.df == 1);
  CHECK(trays.treatments.front().days.between_sowings.df == 3);
}

TEST_CASE("blocks hold the drawing of lots of the rank test too") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string block = "B" + std::to_string(i);
    trays.push_back(jarred("U" + block, "untreated", "", 8 + i, 15));
    trays.push_back(jarred("S" + block, "soak", "", 6 + i, 15));
    for (std::size_t j = trays.size() - 2; j < trays.size(); ++j) trays[j].sowing.block = block;
  }
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  const auto& test = *answer.contrasts.front().speed.log_rank;
  CHECK(test.arrangements == 16);  // 2^4
  CHECK_WITHIN(test.smallest_p, 2.0 / 16, 1e-12);
  CHECK_WITHIN(test.p_sowings, 2.0 / 16, 1e-12);  // sooner in every block
}

TEST_CASE("alike trays have their mean days by the middles, without a spread") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    trays.push_back(in_trial(history("S" + std::to_string(i), 20, {{5, 3}, {9, 13}}), "soak"));
    trays.push_back(in_trial(history("U" + std::to_string(i), 20, {{5, 4}, {9, 14}}), "untreated"));
  }
  const auto answer = compare_treatments(trays, trial_to(9, 30));
  // (3 x 2.5 + 10 x 7) / 13, by hand
  REQUIRE(answer.treatments.front().days.midway.has_value());
  CHECK_WITHIN(*answer.treatments.front().days.midway, 77.5 / 13, 1e-12);
}

TEST_CASE("seedlings are shared out among the units and metres they came from") {
  auto row = history("ROW", 1, {{9, 40}});
  row.sowing.units_known = records::UnitsKnown::unknown;
  row.sowing.units.reset();
  row.sowing.metres = 4;
  auto tray = history("TRAY", 100, {{9, 80}});
  tray.counts.back().entered.seedlings = 90;
  const std::vector<records::History> both{row, tray};
  analysis::SummaryQuestion question;
  question.by = analysis::SummaryBy::crop;
  std::vector<analysis::Group> groups;
  analysis::SummaryStream stream(question, [&](const auto& group) { groups.push_back(group); });
  for (const auto& history : both) stream.take(history);
  stream.finish();
  REQUIRE(groups.size() == 1);
  const auto& seedlings = groups.front().seedlings;
  CHECK_WITHIN(*seedlings.per_unit, 90.0 / 80, 1e-12);
  CHECK_WITHIN(*seedlings.per_metre, 40.0 / 4, 1e-12);
  CHECK(seedlings.seedlings == 130);
}

TEST_CASE("a treatment that is another seed lot, or another block, can't be told from it") {
  for (const bool blocks : {false, true}) {
    std::vector<records::History> trays;
    for (int i = 0; i < 4; ++i) {
      const std::string name = std::to_string(i);
      trays.push_back(
          of_lot("S" + name, "soak", blocks ? "L" : "A", 44 + i % 2, blocks ? "1" : ""));
      trays.push_back(
          of_lot("U" + name, "untreated", blocks ? "L" : "B", 20 + i % 3, blocks ? "2" : ""));
    }
    const auto contrast = compare_treatments(trays, trial_to(20, 30)).contrasts.front();
    CHECK(contrast.code == "too-small");
    CHECK(contrast.verdicts.came_up.ground == analysis::StandGround::confounded);
    CHECK(contrast.verdicts.speed.ground == analysis::SpeedGround::confounded);
    REQUIRE(contrast.stand.came_up);
    CHECK_FALSE(contrast.stand.came_up->by_model.told_apart);
    CHECK(contrast.stand.parted_by ==
          std::vector{blocks ? analysis::Factor::block : analysis::Factor::lot});
    CHECK(contrast.stand.came_up->difference() == contrast.stand.came_up->plain);
  }
}

TEST_CASE("seed lots that hold different shares are compared within each") {
  std::vector<records::History> trays;
  for (int i = 0; i < 9; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(of_lot("S" + name, "soak", i < 7 ? "A" : "B", (i < 7 ? 44 : 20) + i % 3));
    trays.push_back(of_lot("U" + name, "untreated", i < 2 ? "A" : "B", (i < 2 ? 44 : 20) + i % 3));
  }
  trays.push_back(of_lot("X", "soak", "C", 50));
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  const auto& judged = answer.contrasts.front();
  REQUIRE(judged.stand.came_up);
  CHECK(judged.stand.came_up->plain > 0.2);
  CHECK(std::fabs(judged.stand.came_up->difference()) < 0.03);
  CHECK(judged.verdicts.came_up.code == analysis::StandCode::neither);
  CHECK(judged.stand.units == 10);
  CHECK(answer.layout.kept_apart == std::vector{analysis::Factor::lot});
  // The treatments' own means are those of the difference.
  CHECK_CLOSE(answer.stands[0].came_up->mean - answer.stands[1].came_up->mean,
              judged.stand.came_up->difference(), 1e-12);
}

TEST_CASE("blocks that differ hide no sure effect, and what they do passes for none") {
  // Six blocks of very unlike stands; five or six of 50 more in each with the soak.
  const std::int64_t stands[] = {20, 26, 32, 38, 42, 23};
  std::vector<records::History> trays;
  for (int i = 0; i < 6; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(of_lot("U" + name, "untreated", "L", stands[i], name));
    trays.push_back(of_lot("S" + name, "soak", "L", stands[i] + 5 + i % 2, name));
  }
  auto question = trial_to(20, 30);
  const auto judged = compare_treatments(trays, question).contrasts.front();
  CHECK(judged.verdicts.came_up.code == analysis::StandCode::more);
  CHECK(judged.verdicts.came_up.ground == analysis::StandGround::by_model);
  CHECK_CLOSE(judged.stand.came_up->difference(), 0.11, 2e-3);
  CHECK(judged.stand.came_up->by_model.df == 5);
  CHECK(judged.speed.mean_days.difference.within_blocks);
  CHECK(judged.speed.mean_days.difference.df == 5);
  // Five blocks are too few to know the spread of the days within them.
  trays.resize(10);
  const auto five = compare_treatments(trays, question).contrasts.front();
  CHECK(five.stand.came_up->by_model.df == 4);
  CHECK_FALSE(five.speed.mean_days.difference.within_blocks);
}

TEST_CASE("what lies unevenly across the treatments is told from them, or stops the claim") {
  // Warm and cold: a block, a place, a day of sowing a week later.
  const auto laid = [](const std::string& how, bool warm, records::History tray) {
    if (how == "block") tray.sowing.block = warm ? "warm" : "cold";
    if (how == "place") tray.sowing.place = warm ? "heat mat" : "cold frame";
    if (how == "day" && !warm) {
      tray.sowing.sown.date += std::chrono::days(7);
      for (auto& count : tray.counts) count.at.date += std::chrono::days(7);
    }
    return tray;
  };
  for (const std::string how : {"block", "place", "day"}) {
    std::vector<records::History> trays, apart;
    for (int i = 0; i < 4; ++i) {
      const std::string name = std::to_string(i);
      trays.push_back(laid(how, true, of_lot("S" + name, "soak", "L", 46 + i % 2)));
      trays.push_back(laid(how, false, of_lot("U" + name, "untreated", "L", 19 + i % 3)));
    }
    apart = trays;
    trays.push_back(laid(how, true, of_lot("U4", "untreated", "L", 47)));
    const auto one = compare_treatments(trays, trial_to(20, 40)).contrasts.front();
    CHECK_MESSAGE(one.stand.came_up->plain > 0.4, how);
    CHECK(std::fabs(one.stand.came_up->difference()) < 0.03);
    // One tray alone where both are: however many there are elsewhere, it cannot be told from that.
    CHECK(one.verdicts.came_up.ground == analysis::StandGround::single_unit);
    CHECK_FALSE(analysis::claims(one.verdicts.speed));
    const auto none = compare_treatments(apart, trial_to(20, 40)).contrasts.front();
    CHECK(none.verdicts.came_up.ground == analysis::StandGround::confounded);
    CHECK(none.verdicts.speed.ground == analysis::SpeedGround::confounded);
    CHECK(none.code == "too-small");
  }
}

TEST_CASE("a jar across two blocks does not hide what they do") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    auto soaked = of_lot("S" + name, "soak", "L", i < 3 ? 46 : 20, i < 3 ? "warm" : "cold");
    auto dry = of_lot("U" + name, "untreated", "L", i < 1 ? 46 : 20, i < 1 ? "warm" : "cold");
    soaked.sowing.batch = i > 1 ? "J" : "K" + name;  // one of three jars lies in both blocks
    dry.sowing.batch = "D" + name;
    trays.push_back(soaked);
    trays.push_back(dry);
  }
  const auto uneven = compare_treatments(trays, trial_to(20, 30)).contrasts.front();
  CHECK(uneven.verdicts.came_up.ground == analysis::StandGround::confounded);
  CHECK(uneven.stand.parted_by == std::vector{analysis::Factor::block});
  // With the same share of both in each block it makes neither of them look better.
  for (auto& tray : trays)
    if (tray.sowing.treatment == "untreated")
      tray.sowing.block = tray.sowing.label == "U3" ? "cold" : "warm";
  const auto even = compare_treatments(trays, trial_to(20, 30)).contrasts.front();
  CHECK(even.stand.parted_by.empty());
}

TEST_CASE("losses after the close are told, and change nothing") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(of_lot("S" + name, "soak", "L", 45));
    trays.push_back(of_lot("U" + name, "untreated", "L", 30 + i % 2));
  }
  const auto before = compare_treatments(trays, trial_to(40, 60));
  auto late = trays[0].counts.back();
  late.at.date = on_day(35);
  late.entered = {records::CountKind::standing, 5, std::nullopt, 40};
  trays[0].counts.push_back(late);
  const auto after = compare_treatments(trays, trial_to(40, 60));
  CHECK(before.lost_after_close.empty());
  CHECK(after.lost_after_close == std::vector<std::string>{"S0"});
  CHECK_FALSE(after.contrasts.front().verdicts.standing);
}

TEST_CASE("a treatment that still came up at its last look is known for it") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(
        in_trial(history("S" + name, 50, {{5, 40}, {9, 45}, {15, 45}, {20, 45}}), "soak"));
    trays.push_back(
        in_trial(history("U" + name, 50, {{5, 0}, {9, 8}, {15, 16}, {20, 24 + i}}), "untreated"));
  }
  const auto one = compare_treatments(trays, trial_to(20, 30)).contrasts.front();
  CHECK(one.verdicts.came_up.code == analysis::StandCode::more);
  CHECK(one.still_rising_against);
  CHECK_FALSE(one.still_rising);
}

TEST_CASE("a place of its own is part of a tray, and so are days of sowing up to three apart") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(of_lot("S" + name, "soak", "L", 44 + i % 2));
    trays.push_back(of_lot("U" + name, "untreated", "L", 20 + i % 3));
    trays[trays.size() - 1].sowing.place = "left " + name;
    trays[trays.size() - 2].sowing.place = "right " + name;
    trays[trays.size() - 2].sowing.sown.date += std::chrono::days(3);
  }
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  CHECK(answer.layout.kept_apart.empty());
  CHECK(answer.contrasts.front().verdicts.came_up.code == analysis::StandCode::more);
}

TEST_CASE("what came up and what stands have a verdict each") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    auto soaked = of_lot("S" + name, "soak", "L", 45);
    soaked.counts[2].entered = {records::CountKind::standing, 10, std::nullopt, 35};
    trays.push_back(soaked);
    trays.push_back(of_lot("U" + name, "untreated", "L", 30 + i % 2));
  }
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  const auto& one = answer.contrasts.front();
  CHECK(one.verdicts.came_up.code == analysis::StandCode::more);
  REQUIRE(one.verdicts.standing);
  CHECK(one.verdicts.standing->code == analysis::StandCode::fewer);
  CHECK_CLOSE(one.stand.came_up->plain, 0.29, 1e-12);
  CHECK_CLOSE(one.stand.standing->plain, 0.2 - 0.61, 1e-12);
  CHECK(one.code.starts_with("more+fewer-standing"));
  REQUIRE(answer.stands[0].standing);
  CHECK_CLOSE(answer.stands[0].standing->mean, 0.2, 1e-9);
  // A treatment that lost none, like what it is held against: there what came up is what stands.
  for (int i = 0; i < 4; ++i) trays.push_back(of_lot("C" + std::to_string(i), "chill", "L", 40));
  for (const auto& each : compare_treatments(trays, trial_to(20, 30)).contrasts)
    CHECK(each.stand.standing.has_value() == (each.treatment == "soak"));
}

TEST_CASE("no claim among several treatments without allowing for all of them") {
  // The figures alone would bear a claim; of one of five they do not, asked for by itself or not.
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(of_lot("U" + name, "untreated", "L", 29 + 2 * (i % 2)));
    trays.push_back(of_lot("S" + name, "soak", "L", 37 + 2 * (i % 2)));
    for (const char* other : {"chill", "heat", "nick", "prime"})
      trays.push_back(of_lot(other + name, other, "L", 29 + 2 * (i % 2)));
  }
  const auto named = [](const analysis::TreatmentComparison& answer) {
    for (const auto& one : answer.contrasts)
      if (one.treatment == "soak") return one;
    FAIL("no such treatment");
    return answer.contrasts.front();
  };
  const auto all = named(compare_treatments(trays, trial_to(20, 30)));
  REQUIRE(all.holm);
  CHECK(all.holm->comparisons == 5);
  CHECK_CLOSE(*all.holm->came_up, 5 * all.stand.came_up->by_model.tail(), 1e-12);
  CHECK(all.stand.came_up->judged.claim_p == *all.holm->came_up);
  auto alone = trial_to(20, 30);
  alone.treatment = "soak";
  const auto answer = compare_treatments(trays, alone);
  CHECK(answer.contrasts.size() == 1);
  const auto one = named(answer);
  CHECK(one.stand.came_up->judged.claim_p == *all.holm->came_up);
  CHECK(one.holm->comparisons == 5);
  CHECK(one.stand.came_up->judged_by == "standardised+holm");
  CHECK(all.stand.came_up->judged_by == "standardised+holm");
}

TEST_CASE("counts made after the close decide nothing") {
  std::vector<records::History> trays;
  for (int i = 0; i < 8; ++i)
    trays.push_back(
        of_lot("T" + std::to_string(i), i % 2 == 0 ? "soak" : "untreated", "L", 34 + i / 2));
  const auto before = compare_treatments(trays, trial_to(20, 21));
  for (int i = 0; i < 8; i += 2) {  // the soaked ones go on, long after
    auto more = history("x", 50, {{5, 10}, {40, 50}}).counts.back();
    trays[static_cast<std::size_t>(i)].counts.push_back(more);
  }
  const auto after = compare_treatments(trays, trial_to(20, 41));
  CHECK(before.more_after_close.empty());
  CHECK(after.more_after_close == std::vector<std::string>{"T0", "T2", "T4", "T6"});
  CHECK(after.contrasts.front().stand.came_up->plain ==
        before.contrasts.front().stand.came_up->plain);
  CHECK(after.contrasts.front().code == before.contrasts.front().code);
}

TEST_CASE("a stand that nobody saw to the end has no verdict") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(in_trial(history("S" + name, 50, {{5, 20}, {9, 42 + i % 2}}), "soak"));
    trays.push_back(in_trial(history("U" + name, 50, {{5, 10}, {9, 22 + i % 2}}), "untreated"));
  }
  const auto early = compare_treatments(trays, trial_to(23, 30));
  CHECK(early.contrasts.front().verdicts.came_up.ground == analysis::StandGround::not_settled);
  CHECK(early.contrasts.front().verdicts.came_up.code == analysis::StandCode::too_small);
  CHECK(early.contrasts.front().last_look == on_day(9));
  for (auto& tray : trays) {  // one look a day before the end is enough
    auto last = tray.counts.back();
    last.at.date = on_day(22);
    tray.counts.push_back(last);
  }
  const auto seen = compare_treatments(trays, trial_to(23, 30));
  CHECK(seen.contrasts.front().verdicts.came_up.code == analysis::StandCode::more);
}

TEST_CASE("days that are alike so far are no answer where nobody saw the late ones") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    for (const std::string treatment : {"soak", "untreated"})
      trays.push_back(
          in_trial(history(treatment[0] + name, 50, {{3, 0}, {4, 5 + i}, {5, 12 + i}, {6, 25 + i}}),
                   treatment));
  }
  const auto early = compare_treatments(trays, trial_to(23, 30)).contrasts.front().verdicts.speed;
  CHECK(early.code == analysis::SpeedCode::too_small);
  CHECK(early.ground == analysis::SpeedGround::not_settled);
  for (auto& tray : trays) {
    auto last = tray.counts.back();
    last.at.date = on_day(22);
    tray.counts.push_back(last);
  }
  const auto seen = compare_treatments(trays, trial_to(23, 30)).contrasts.front().verdicts.speed;
  CHECK(seen.code == analysis::SpeedCode::neither);
}

TEST_CASE("where next to nothing came at the end the last day need not be waited for") {
  const auto trial = [](std::int64_t late) {
    std::vector<records::History> trays;
    for (int i = 0; i < 4; ++i) {
      const std::string name = std::to_string(i);
      trays.push_back(in_trial(
          history("S" + name, 50, {{5, 20}, {9, 41 + i % 2}, {12, 43}, {16, 43 + late}}), "soak"));
      trays.push_back(
          in_trial(history("U" + name, 50, {{5, 10}, {9, 21 + i % 2}, {12, 23}, {16, 23 + late}}),
                   "untreated"));
    }
    return compare_treatments(trays, trial_to(23, 30)).contrasts.front();
  };
  CHECK(trial(1).verdicts.came_up.code == analysis::StandCode::more);
  CHECK_FALSE(trial(1).last_look);
  CHECK(trial(3).verdicts.came_up.ground == analysis::StandGround::not_settled);
}

TEST_CASE("ending a trial by hand does not see what was not looked at") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(
        ended(in_trial(history("S" + name, 50, {{5, 20}, {9, 42 + i % 2}}), "soak"), 9));
    trays.push_back(
        ended(in_trial(history("U" + name, 50, {{5, 10}, {9, 22 + i % 2}}), "untreated"), 9));
  }
  const auto early = compare_treatments(trays, trial_to(23, 12));
  CHECK(early.state.closing.by == stats::ClosedBy::hand);
  CHECK(early.contrasts.front().verdicts.came_up.ground == analysis::StandGround::not_settled);
  CHECK(early.contrasts.front().last_look == on_day(9));
  // Five quiet days before it was ended are enough.
  for (auto& tray : trays) {
    auto last = tray.counts.back();
    last.at.date = on_day(14);
    tray.counts.push_back(last);
    tray.sowing.ending->at.date = on_day(14);
  }
  const auto rested = compare_treatments(trays, trial_to(23, 15));
  CHECK(rested.contrasts.front().verdicts.came_up.code == analysis::StandCode::more);
}

TEST_CASE("days without a number sown are held to the last day too; seedlings are no look") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i)
    for (const std::string treatment : {"soak", "untreated"}) {
      auto tray = in_trial(history(treatment[0] + std::to_string(i), 50,
                                   {{3, 0}, {4, 5 + i}, {5, 12 + i}, {6, 25 + i}}),
                           treatment);
      tray.sowing.units.reset();
      tray.sowing.units_known = records::UnitsKnown::unknown;
      records::Count seedlings;
      seedlings.at.date = on_day(22);
      seedlings.entered = {records::CountKind::seedlings, 0, {}, 0, 60};
      seedlings.total = tray.counts.back().total;
      tray.counts.push_back(seedlings);
      trays.push_back(tray);
    }
  const auto answer = compare_treatments(trays, trial_to(23, 30)).contrasts.front();
  CHECK(answer.last_look == on_day(6));
  CHECK(answer.verdicts.speed.ground == analysis::SpeedGround::not_settled);
}

TEST_CASE("one tray counted after the close does not put the others in the shade") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(
        in_trial(history("S" + name, 50, {{5, 20}, {9, 42 + i % 2}, {20, 43}}), "soak"));
    trays.push_back(
        in_trial(history("U" + name, 50, {{5, 10}, {9, 22 + i % 2}, {20, 24}}), "untreated"));
  }
  const auto before = compare_treatments(trays, trial_to(20, 30));
  auto& one = trays.front();
  auto later = one.counts.back();
  later.at.date = on_day(25);
  later.entered.value = later.total = 47;
  one.counts.push_back(later);
  const auto after = compare_treatments(trays, trial_to(20, 30));
  CHECK(after.layout.left_out.empty());
  CHECK(after.contrasts.front().code == before.contrasts.front().code);
  // Looks at half of them do not finish it either, looks at more than half do.
  for (const std::size_t looked : {4u, 5u}) {
    auto some = trays;
    some.front().counts.pop_back();
    for (std::size_t i = 0; i < looked; ++i) some[i].counts.back().at.date = on_day(25);
    for (std::size_t i = looked; i < some.size(); ++i) some[i].counts.back().at.date = on_day(19);
    // Not finished, those looked at on day 25 were last seen on day 9, while others still came up:
    // the stand is that of two of the four.
    const auto answer = compare_treatments(some, trial_to(20, 30));
    CHECK(answer.treatments[0].stand.emerged == (looked == 5 ? 4 : 2) * 43);
  }
  // One look at most of them finishes a trial that closed without.
  for (auto& tray : trays) {
    tray.counts.back().at.date = on_day(25);
    if (&tray == &one) tray.counts.erase(tray.counts.end() - 2);
  }
  const auto finished = compare_treatments(trays, trial_to(20, 30));
  CHECK(finished.layout.left_out.empty());
  CHECK(finished.treatments[0].stand.emerged == 43 * 3 + 47);
}

TEST_CASE("a full tray that was then knocked over counts") {
  std::vector<records::History> trays;
  for (int i = 0; i < 3; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(
        in_trial(history("U" + name, 40, {{4, 8}, {12, 30 + i}, {19, 30 + i}}), "untreated"));
    trays.push_back(
        in_trial(history("S" + name, 40, {{4, 20}, {12, 38 + i % 2}, {19, 38 + i % 2}}), "soak"));
  }
  trays.push_back(
      ended(in_trial(history("A", 40, {{8, 40}}), "soak"), 8, records::EndingKind::accident));
  trays.push_back(
      ended(in_trial(history("B", 40, {{8, 39}}), "soak"), 8, records::EndingKind::accident));
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  REQUIRE(answer.layout.left_out.size() == 1);
  CHECK(answer.layout.left_out[0].sowing == "B");
  CHECK(answer.contrasts.front().stand.units == 4);
}

TEST_CASE("a jar across blocks keeps the seed lots apart") {
  std::vector<records::History> trays;
  for (int i = 0; i < 8; ++i) {
    const bool soaked = i % 2 == 1;
    auto tray = of_lot("T" + std::to_string(i), soaked ? "soak" : "untreated", i < 4 ? "A" : "B",
                       (i < 4 ? 40 : 20) + i % 3, std::to_string(i / 2));
    tray.sowing.batch = std::string(soaked ? "s" : "u") + (i < 4 ? "1" : "2");
    trays.push_back(tray);
  }
  const auto answer = compare_treatments(trays, trial_to(20, 30));
  CHECK(answer.layout.jar_across == std::vector{analysis::Factor::block});
  CHECK(answer.layout.strata == std::vector<std::string>{"A", "B"});
  // Two jars of one lot, two of the other: 2 x 2 ways, and its mirror is as far out.
  CHECK(answer.contrasts.front().stand.randomisation->arrangements == 4);
  CHECK(answer.contrasts.front().stand.randomisation->smallest_p == 0.5);
}

TEST_CASE("a block sown later and looked at to the same day is in the stand") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string treatment = i % 2 == 0 ? "soak" : "untreated";
    const std::string name = std::to_string(i);
    auto tray = in_trial(history(name, 50, {{5, 10}, {14, 30}, {24, 38 + i}, {27, 40 + i}}),
                         treatment, i < 2 ? "1" : "2");
    if (i >= 2) {  // sown six days later: its own days are fewer
      tray.sowing.sown.date += std::chrono::days(6);
      tray.counts.erase(tray.counts.begin());
    }
    trays.push_back(tray);
  }
  const auto answer = compare_treatments(trays, trial_to(27, 40));
  CHECK(answer.layout.left_out.empty());
  CHECK(answer.contrasts.front().stand.units == 2);
}

TEST_CASE("of several trials together nothing is claimed, and their figures stand") {
  std::vector<records::History> trays;
  for (int i = 0; i < 16; ++i) {
    const bool soaked = i % 2 == 0;
    trays.push_back(of_lot("T" + std::to_string(i), soaked ? "soak" : "untreated", "L",
                           (soaked ? 44 : 24) + i / 4));
    trays.back().sowing.trial = i < 8 ? "T10" : "T2";
  }
  auto question = trial_to(20, 60);
  question.trial.reset();
  const auto both = compare_treatments(trays, question);
  REQUIRE_FALSE(both.state.open());
  CHECK(both.layout.trials == std::vector<std::string>{"T2", "T10"});
  const auto& contrast = both.contrasts.front();
  CHECK(contrast.code == "too-small");
  CHECK(contrast.verdicts.came_up.ground == analysis::StandGround::several_trials);
  CHECK(contrast.verdicts.speed.ground == analysis::SpeedGround::several_trials);
  CHECK(contrast.stand.came_up->by_model.told_apart);
  CHECK(contrast.speed.mean_days.difference.p.has_value());
  CHECK_FALSE(contrast.stand.to_tell.has_value());
  // One of them alone is judged.
  for (auto& tray : trays) tray.sowing.trial = "T2";
  const auto one = compare_treatments(trays, question);
  CHECK(one.contrasts.front().verdicts.came_up.code == analysis::StandCode::more);
  CHECK(one.contrasts.front().verdicts.speed.ground != analysis::SpeedGround::several_trials);
  CHECK_FALSE(one.layout.several_trials);
  // Each treatment in a trial of its own can't even be told from it.
  for (auto& tray : trays) tray.sowing.trial = tray.sowing.treatment;
  CHECK(compare_treatments(trays, question).contrasts.front().verdicts.came_up.ground ==
        analysis::StandGround::confounded);
}

TEST_CASE("sowings picked out of a trial are judged as after looking") {
  std::vector<records::History> trays;
  for (int i = 0; i < 8; ++i)
    trays.push_back(of_lot("T" + std::to_string(i), i % 2 == 0 ? "soak" : "untreated", "L",
                           (i % 2 == 0 ? 40 : 32) + i / 2));
  auto question = trial_to(20, 30);
  const auto whole = compare_treatments(trays, question);
  CHECK(whole.contrasts.front().verdicts.came_up.ground == analysis::StandGround::by_model);
  question.picked_of = 12;
  const auto picked = compare_treatments(trays, question).contrasts.front();
  const double factor = picked.stand.came_up->by_model.bayes_factor;
  CHECK(factor < 20);
  CHECK(picked.verdicts.came_up.ground == analysis::StandGround::weak_evidence);
  CHECK(picked.stand.came_up->judged_by == "standardised+bayes-factor");
}

TEST_CASE("jars recorded of some trays of a treatment make no claim") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string name = std::to_string(i);
    const std::string jar = "J" + name;
    trays.push_back(in_trial(history("S" + name, 50, {{5, 20}, {9, 48}, {20, 48}}), "soak", "",
                             i < 3 ? jar : ""));
    trays.push_back(in_trial(history("U" + name, 50, {{5, 6}, {9, 20}, {20, 21}}), "untreated"));
  }
  const auto partly = compare_treatments(trays, trial_to(20, 30));
  const auto& contrast = partly.contrasts.front();
  CHECK(contrast.code == "too-small");
  CHECK(contrast.verdicts.came_up.ground == analysis::StandGround::jars_partly_known);
  CHECK(partly.layout.jars.front().recorded == 3);
  CHECK(partly.layout.jars.front().not_recorded_of == std::vector<std::string>{"S3"});
  trays[6].sowing.batch = "J3";
  CHECK(compare_treatments(trays, trial_to(20, 30)).contrasts.front().code.starts_with("more"));
}
