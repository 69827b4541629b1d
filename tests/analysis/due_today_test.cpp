// What a day asks for: due, missed, done, late.
#include "analysis/due_today.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

analysis::DueToday today(const std::vector<records::History>& open, int day,
                         const std::vector<records::Trial>& trials = {}) {
  return analysis::due_today(open, trials, on_day(day));
}

records::History of_crop(records::History history, const std::string& crop) {
  history.sowing.crop = crop;
  return history;
}

}  // namespace

TEST_CASE("a sowing is due daily from the day after it was sown") {
  const std::vector sowings = {history("A", 50, {})};
  CHECK(today(sowings, 0).due.empty());
  CHECK(today(sowings, 0).not_due.size() == 1);
  CHECK(today(sowings, 1).due.size() == 1);
  CHECK(today(sowings, 1).due[0].missed.empty());
  const auto third = today(sowings, 3);
  REQUIRE(third.due.size() == 1);
  CHECK(third.due[0].missed.size() == 2);
  CHECK(third.due[0].sowing.day == 3);
  CHECK(today(sowings, -1).not_due.empty());  // not sown yet
}

TEST_CASE("counted today is not due, a missed weekend is named") {
  const std::vector sowings = {history("A", 50, {{4, 3}}), history("B", 50, {{7, 3}})};
  const auto finding = today(sowings, 7);
  REQUIRE(finding.due.size() == 1);
  CHECK(finding.due[0].sowing.name == "A");
  REQUIRE(finding.due[0].missed.size() == 2);
  CHECK(finding.due[0].missed[0] == on_day(5));
  REQUIRE(finding.counted.size() == 1);
  CHECK(finding.counted[0].name == "B");
}

TEST_CASE("a row of which only seedlings were counted was looked at, and says nothing of units") {
  auto row = history("R", 50, {{4, 0}});
  row.counts[0].entered.kind = records::CountKind::seedlings;
  row.counts[0].entered.seedlings = 40;
  const auto finding = today({row}, 5);
  REQUIRE(finding.due.size() == 1);
  CHECK(finding.due[0].sowing.seedlings == 40);
  CHECK(finding.due[0].sowing.last_on == on_day(4));
  row.counts.push_back(history("R", 50, {{4.5, 9}}).counts[0]);  // then the units
  CHECK_FALSE(today({row}, 5).due[0].sowing.seedlings.has_value());
  CHECK(today({row}, 5).due[0].sowing.up == 9);
}

TEST_CASE("a trial with planned inspections is due on those days, and until a missed one is made") {
  records::Trial trial;
  trial.code = "T";
  trial.inspections = {on_day(4), on_day(8)};
  trial.blind = true;
  const std::vector sowings = {in_trial(history("A", 50, {{3, 1}}), "untreated")};
  CHECK(today(sowings, 3, {trial}).counted.size() == 1);
  const auto fourth = today(sowings, 4, {trial});
  REQUIRE(fourth.due.size() == 1);
  CHECK(fourth.due[0].planned);
  CHECK(fourth.due[0].missed.empty());
  CHECK(fourth.due[0].sowing.hidden);
  const auto sixth = today(sowings, 6, {trial});
  REQUIRE(sixth.due.size() == 1);
  CHECK(sixth.due[0].missed == std::vector{on_day(4)});
  auto made_up = sowings;
  made_up[0].counts.push_back(made_up[0].counts[0]);
  made_up[0].counts.back().at.date = on_day(5);
  const auto later = today(made_up, 6, {trial});
  CHECK(later.due.empty());
  REQUIRE(later.not_due.size() == 1);
  CHECK(later.not_due[0].next == on_day(8));
}

TEST_CASE("done: nothing new for max of five days and half the days to the last, shown by looks") {
  const auto quiet = history("A", 50, {{8, 30}, {12, 30}});
  CHECK(today({quiet}, 13).done.empty());  // four days shown
  const auto longer = history("A", 50, {{8, 30}, {13, 30}});
  REQUIRE(today({longer}, 14).done.size() == 1);
  CHECK(today({longer}, 14).done[0].needed == 5);
  CHECK(today({longer}, 14).done[0].quiet_days == 5);
  CHECK(today({longer}, 14).due.empty());
  const auto slow = history("B", 50, {{20, 30}, {28, 30}});
  CHECK(today({slow}, 29).done.empty());  // ten are needed
  const auto full = history("C", 50, {{6, 50}});
  REQUIRE(today({full}, 7).done.size() == 1);
  CHECK(today({full}, 7).done[0].all_up);
}

TEST_CASE("should be up by the crop's own days, at the temperatures that were read") {
  // Harrington & Minges 1954 by way of extension tables: lettuce comes up in 3 days at 20 C.
  const auto lettuce = of_crop(history("L", 50, {}), "lettuce");
  CHECK(today({lettuce}, 3).should_be_up.empty());
  const auto late = today({lettuce}, 4);
  REQUIRE(late.should_be_up.size() == 1);
  CHECK(late.should_be_up[0].expected_day == 3);
  auto cold = lettuce;
  records::Temperature reading;
  reading.min_c = 2;
  reading.max_c = 8;
  cold.temperatures = {reading};
  CHECK(today({cold}, 4).should_be_up.empty());  // 15 days at 5 C
  CHECK(today({of_crop(history("L", 50, {{4, 2}}), "lettuce")}, 5).should_be_up.empty());
  CHECK(today({of_crop(history("X", 50, {}), "moonweed")}, 90).should_be_up.empty());
}

TEST_CASE("looking is asked for from half the fewest published days on, then daily") {
  // Harrington & Minges 1954: carrot 10, 7 and 6 days at 15, 20 and 25 C, 17 at 10 C.
  const auto carrot = of_crop(history("R", 200, {}), "carrot");
  CHECK(today({carrot}, 1).due.empty());
  REQUIRE(today({carrot}, 1).not_due.size() == 1);
  CHECK(today({carrot}, 1).not_due[0].next == on_day(3));
  REQUIRE(today({carrot}, 3).due.size() == 1);
  CHECK(today({carrot}, 5).due[0].missed == std::vector{on_day(3), on_day(4)});
  auto cold = carrot;
  records::Temperature reading;
  reading.min_c = 8;
  reading.max_c = 12;
  cold.temperatures = {reading};
  CHECK(today({cold}, 7).due.empty());
  CHECK(today({cold}, 8).due.size() == 1);
  auto early = of_crop(history("R", 200, {{2, 1}}), "carrot");
  CHECK(today({early}, 3).due.size() == 1);  // once one is up, daily
  auto towel = carrot;
  towel.sowing.setting = records::Setting::towel;
  CHECK(today({towel}, 1).due.size() == 1);
}

TEST_CASE("more is unlikely only after a look on the give-up day, and each stands in one list") {
  // Lettuce: 7 days (7 CFR 201.58) and a week in soil of no known temperature.
  const auto places = [](const analysis::DueToday& day) {
    return day.due.size() + day.counted.size() + day.done.size() + day.should_be_up.size() +
           day.past_give_up.size() + day.not_due.size();
  };
  const auto never = today({of_crop(history("L", 50, {}), "lettuce")}, 60);
  CHECK(never.past_give_up.empty());
  REQUIRE(never.should_be_up.size() == 1);
  CHECK(never.should_be_up[0].due);
  CHECK(places(never) == 1);
  const auto looked = today({of_crop(history("L", 50, {{14, 0}}), "lettuce")}, 60);
  CHECK(looked.past_give_up.size() == 1);
  CHECK(places(looked) == 1);
  const auto too_soon = today({of_crop(history("L", 50, {{5, 9}, {9, 12}}), "lettuce")}, 60);
  REQUIRE(too_soon.due.size() == 1);
  CHECK(too_soon.due[0].last_count_day == 14);
  CHECK(places(too_soon) == 1);
  const auto still = today({of_crop(history("L", 50, {{5, 9}, {20, 12}}), "lettuce")}, 21);
  CHECK(still.due.size() == 1);
  const auto late = today({of_crop(history("L", 50, {{9, 0}}), "lettuce")}, 9);
  REQUIRE(late.should_be_up.size() == 1);
  CHECK_FALSE(late.should_be_up[0].due);
  CHECK(places(late) == 1);
}
