// What makes a comparison fair: both arms followed to the end, the last day fixed beforehand, jars
// counted as one, figures that belong together.
#include <doctest/doctest.h>

#include "analysis/histories.hpp"
#include "analysis/summary.hpp"
#include "analysis/treatment_comparison.hpp"
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
  CHECK(unplanned.state.openness.source == stats::PlannedDay::four_weeks);
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
