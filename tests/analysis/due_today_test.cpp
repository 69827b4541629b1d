// What a day asks for: due, missed, done, late.
#include "analysis/due_today.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

analysis::DueToday today(const std::vector<records::History>& open, int day,
                         const std::vector<records::Trial>& trials = {}) {
  return analysis::due_today(open, trials, on_day(day), {});
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
  CHECK_FALSE(today({lettuce}, 60).past_give_up.empty());
}
