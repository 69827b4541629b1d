// What bad and thin data get: every question answered, nothing but finite numbers, no exception and
// no hang, and a status that says what can't be known.
#include <doctest/doctest.h>

#include <cmath>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "analysis/summary/summary.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

using Trays = std::vector<records::History>;

std::vector<Total> daily(int first, int last, std::int64_t final) {
  std::vector<Total> totals;
  for (int day = 1; day <= last; ++day)
    totals.push_back(
        {day + 0.5,
         day < first ? 0 : std::min<std::int64_t>(final, (day - first + 1) * final / 4)});
  return totals;
}

void finite(const std::optional<double>& x) {
  if (x) CHECK(std::isfinite(*x));
}

analysis::Group summed(const Trays& trays) {
  analysis::Group group;
  analysis::SummaryQuestion question;
  question.by = analysis::SummaryBy::crop;
  analysis::SummaryStream stream(question, [&](const analysis::Group& g) { group = g; });
  for (const auto& tray : trays) stream.take(tray);
  stream.finish();
  finite(group.stand.fraction);
  for (const auto& interval : group.stand.intervals) {
    CHECK(std::isfinite(interval.lower));
    CHECK(std::isfinite(interval.upper));
    CHECK(interval.lower <= interval.upper);
  }
  finite(group.days.indices.mean);
  finite(group.days.indices.variance);
  finite(group.days.indices.synchrony);
  finite(group.days.indices.t50_coolbear);
  finite(group.days.indices.germination_value);
  return group;
}

analysis::TreatmentComparison compared(const Trays& first, const Trays& second, int closes = 30) {
  Trays all;
  for (const bool soaked : {true, false})
    for (auto tray : soaked ? first : second) {
      tray.sowing.label = "S" + std::to_string(all.size() + 1);
      all.push_back(in_trial(tray, soaked ? "soak" : "untreated", tray.sowing.block));
    }
  analysis::ComparisonQuestion question;
  question.subject = "T";
  question.trial = records::Trial{};
  question.trial->code = "T";
  question.trial->closes_on = on_day(closes);
  question.today = on_day(60);
  return analysis::compare_treatments(all, question);
}

void sound(const analysis::TreatmentComparison& answer) {
  for (const auto& contrast : answer.contrasts) {
    if (contrast.stand.came_up) {
      finite(contrast.stand.came_up->difference());
      finite(contrast.stand.came_up->by_model.p_better);
      finite(contrast.stand.came_up->by_model.range.lower);
    }
    finite(contrast.speed.mean_days.difference.difference);
    finite(contrast.speed.mean_days.difference.p);
    CHECK_FALSE(contrast.code.empty());
  }
}

}  // namespace

TEST_CASE("nothing emerged: none, and no days") {
  const Trays trays = {history("A", 50, daily(99, 14, 0)), history("B", 50, daily(99, 14, 0))};
  const auto group = summed(trays);
  CHECK(group.emerged == 0);
  CHECK_FALSE(group.days.indices.mean.has_value());
  CHECK_FALSE(group.days.indices.timson_sum.has_value());
  CHECK(group.model->status == stats::ModelStatus::nothing_emerged);
  CHECK(group.stand.interval->lower == 0);
  const auto answer = compared(trays, trays);
  sound(answer);
  CHECK(answer.contrasts.front().verdicts.speed.ground == analysis::SpeedGround::nothing_up);
}

TEST_CASE("all in one interval, one look, two looks: what can't be told is said") {
  CHECK(summed({history("A", 50, {{4, 0}, {5, 40}, {9, 40}})}).model->status ==
        stats::ModelStatus::one_interval);
  CHECK(summed({history("A", 50, {{9, 40}})}).model->status == stats::ModelStatus::single_count);
  const auto two = summed({history("A", 50, {{5, 20}, {9, 40}})});
  CHECK(two.model->status == stats::ModelStatus::two_intervals);
  sound(compared({history("A", 50, {{9, 40}})}, {history("B", 50, {{9, 30}})}));
}

TEST_CASE("all seeds up: the upper end is 1, the model lies on the boundary or before it") {
  const auto group =
      summed({history("A", 50, daily(5, 14, 50)), history("B", 50, daily(6, 14, 50))});
  CHECK(group.stand.interval->upper == 1);
  CHECK(group.stand.interval->lower > 0.8);
  sound(compared({history("A", 50, daily(5, 14, 50)), history("B", 50, daily(5, 14, 50))},
                 {history("C", 50, daily(5, 14, 50)), history("D", 50, daily(5, 14, 50))}));
}

TEST_CASE("one tray of one seed, and one of 100,000") {
  CHECK(summed({history("A", 1, {{5, 1}})}).stand.fraction == 1.0);
  CHECK(summed({history("A", 1, {{5, 0}})}).stand.fraction == 0.0);
  const auto big = summed({history("A", 100000, daily(5, 14, 88000))});
  CHECK(big.stand.fraction == 0.88);
  sound(compared({history("A", 1, {{5, 1}})}, {history("B", 1, {{5, 0}})}));
  sound(compared({history("A", 100000, daily(5, 14, 88000))},
                 {history("B", 100000, daily(6, 14, 70000))}));
}

TEST_CASE("trays looked at on different days, and one ended early") {
  const Trays trays = {history("A", 50, {{4, 5}, {7, 30}, {12, 40}}),
                       history("B", 50, {{5, 9}, {8, 33}, {13, 38}}),
                       ended(history("C", 50, {{4, 6}}), 5, records::EndingKind::accident)};
  const auto group = summed(trays);
  CHECK_FALSE(group.days.same_looks);
  CHECK(group.stand.sowings == 2);
  CHECK(group.gaps->mean.has_value());
  sound(compared(trays, {history("D", 50, {{6, 9}, {9, 33}, {14, 38}}),
                         history("E", 50, {{5, 9}, {8, 33}, {13, 38}})}));
}

TEST_CASE("identical trays: no days to tell apart, and the stand as sure as its seeds are many") {
  const Trays alike = {history("A", 50, daily(5, 14, 40)), history("B", 50, daily(5, 14, 40))};
  const Trays same = {history("C", 50, daily(5, 14, 36)), history("D", 50, daily(5, 14, 36))};
  const auto answer = compared(alike, same);
  sound(answer);
  CHECK(answer.contrasts.front().verdicts.came_up.ground == analysis::StandGround::nothing_decided);
  CHECK(answer.contrasts.front().verdicts.speed.ground == analysis::SpeedGround::no_variance);
}

TEST_CASE("treatments with no tray in some block, or in no common block") {
  auto in_block = [](const char* label, const char* block, std::int64_t up) {
    auto tray = history(label, 50, daily(5, 14, up));
    tray.sowing.block = block;
    return tray;
  };
  const auto some = compared({in_block("A", "1", 40), in_block("B", "2", 42)},
                             {in_block("C", "1", 30), in_block("D", "3", 29)});
  sound(some);
  CHECK(some.contrasts.front().stand.randomisation->blocks_left_out.size() == 2);
  const auto none = compared({in_block("A", "1", 40), in_block("B", "1", 42)},
                             {in_block("C", "2", 30), in_block("D", "2", 29)});
  sound(none);
  CHECK(none.contrasts.front().stand.randomisation->status == stats::RandomisationStatus::no_block);
}

TEST_CASE("one tray a treatment, one side not looked at, one of an unknown number") {
  const auto seen = history("A", 50, daily(5, 14, 40));
  sound(compared({seen}, {history("B", 50, daily(5, 14, 20))}));
  const auto unseen = compared({seen}, {history("B", 50, {})});
  sound(unseen);
  CHECK(unseen.contrasts.front().verdicts.came_up.ground == analysis::StandGround::no_sowings);
  auto unknown = history("C", 50, daily(6, 14, 20));
  unknown.sowing.units_known = records::UnitsKnown::unknown;
  unknown.sowing.units.reset();
  const auto answer = compared({seen, seen}, {unknown, unknown});
  sound(answer);
  CHECK_FALSE(answer.contrasts.front().stand.came_up.has_value());
  CHECK(answer.contrasts.front().speed.mean_days.difference.difference.has_value());
}

TEST_CASE("a plan before the last sowing is passed over, a trial without a crop has four weeks") {
  const Trays trays = {history("A", 50, daily(5, 14, 40)), history("B", 50, daily(5, 14, 41))};
  const auto early = compared(trays, trays, -3);
  CHECK(early.state.plan_too_early);
  sound(early);
}

TEST_CASE("lots of thin tests get a verdict of some kind") {
  records::Lot lot;
  lot.code = "L";
  lot.crop = "lettuce";
  analysis::ViabilityQuestion question;
  question.today = on_day(40);
  for (const std::int64_t units : {1, 2, 10, 1000})
    for (const std::int64_t up : {std::int64_t{0}, units / 2, units}) {
      const auto finding =
          analysis::lot_viability(lot, Trays{ended(history("T", units, {{9, up}}), 9)}, question);
      CHECK(std::isfinite(*finding.p_meets));
      finite(finding.verdict.times);
      finite(finding.verdict.decides);
    }
}

TEST_CASE("a treatment is still rising where most of its trays had more up at their last look") {
  const auto rising = [](const Trays& soaked) {
    const auto answer = compared(
        soaked, {history("B1", 20, daily(4, 20, 12)), history("B2", 20, daily(4, 20, 13))});
    CHECK_FALSE(answer.contrasts.front().still_rising_against);
    return answer.contrasts.front().still_rising;
  };
  const auto once = history("A1", 20, {{20.5, 8}});  // before its only look it had none
  const auto rose = history("A2", 20, {{6.5, 2}, {20.5, 9}});
  const auto rested = history("A3", 20, {{6.5, 9}, {20.5, 9}});
  CHECK(rising({once, once}));
  CHECK(rising({rose, once, rested}));
  CHECK_FALSE(rising({rose, rested}));  // half are not most
  CHECK_FALSE(rising({rose, rested, rested}));
}
