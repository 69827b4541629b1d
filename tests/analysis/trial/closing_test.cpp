// From the dates of a trial's records to its state: which day is its last, and as of when.
#include "analysis/trial/closing.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "analysis/histories.hpp"
#include "crops/give_up.hpp"
#include "crops/names.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::trial_state;
using std::chrono::days;

namespace {

std::vector<records::History> two(const std::string& first_crop = "bean",
                                  const std::string& second_crop = "bean") {
  std::vector<records::History> made{in_trial(history("A1", 20, {{6, 2}, {9, 5}}), "soak"),
                                     in_trial(history("A2", 20, {{6, 1}, {8, 4}}), "untreated")};
  made[0].sowing.crop = first_crop;
  made[1].sowing.crop = second_crop;
  return made;
}

int give_up(const std::string& crop) {
  return static_cast<int>(std::lround(crops::give_up_days(*crops::find_crop(crop).crop)->days));
}

}  // namespace

TEST_CASE("the last day is the trial's own, else its last inspection, else the crop's") {
  records::Trial trial;
  const auto last_day = [&] { return trial_state(two(), trial, on_day(10)).planned_last_day; };
  CHECK(last_day() == on_day(give_up("bean")));
  CHECK(trial_state(two(), std::nullopt, on_day(10)).planned_last_day == on_day(give_up("bean")));
  trial.inspections = {on_day(7), on_day(16)};
  CHECK(last_day() == on_day(16));
  trial.closes_on = on_day(21);
  CHECK(last_day() == on_day(21));
  trial.moved.emplace();
  trial.moved->fixed = on_day(18);
  CHECK(last_day() == on_day(18));
  trial.moved->fixed.reset();  // there was none when it was first counted
  CHECK(last_day() == on_day(give_up("bean")));
}

TEST_CASE("of several crops the latest gives up, and one that nothing is known of gives none") {
  REQUIRE(give_up("bean") < give_up("parsley"));
  for (const auto& both : {two("bean", "parsley"), two("parsley", "bean")}) {
    const auto state = trial_state(both, std::nullopt, on_day(10));
    CHECK(state.planned_last_day == on_day(give_up("parsley")));
    CHECK(state.give_up_basis == crops::give_up_days(*crops::find_crop("parsley").crop)->how);
  }
  CHECK(trial_state(two("bean", "no such crop"), std::nullopt, on_day(10)).closing.source ==
        stats::PlannedDay::four_weeks);
  // Sown three days later it gives up three days later.
  auto later = two();
  later[1].sowing.sown.date += days(3);
  CHECK(trial_state(later, std::nullopt, on_day(10)).planned_last_day ==
        on_day(give_up("bean") + 3));
}

TEST_CASE("the day asked about is never before what the record knows") {
  const auto before = trial_state(two(), std::nullopt, on_day(3));
  CHECK(before.first_day == sown_on);
  CHECK(before.now == 9);
  CHECK(before.last_look == on_day(9));
  CHECK(trial_state(two(), std::nullopt, on_day(12)).now == 12);
  auto later = two();
  for (auto& one : later) one.counts.clear();
  later[1].sowing.sown.date += days(4);
  const auto unseen = trial_state(later, std::nullopt, on_day(2));
  CHECK(unseen.now == 4);
  CHECK_FALSE(unseen.last_look.has_value());
  std::swap(later[0], later[1]);
  CHECK(trial_state(later, std::nullopt, on_day(2)).first_day == sown_on);
}

TEST_CASE("a last day before the last sowing is passed over, one on it is not") {
  records::Trial trial;
  trial.closes_on = on_day(3);
  auto trays = two();
  trays[1].sowing.sown.date += days(4);
  const auto state = trial_state(trays, trial, on_day(10));
  CHECK(state.plan_too_early);
  CHECK(state.closing.source == stats::PlannedDay::give_up);
  trial.closes_on = on_day(4);
  const auto just = trial_state(trays, trial, on_day(10));
  CHECK_FALSE(just.plan_too_early);
  CHECK(just.closed_on == on_day(4));
}

TEST_CASE("a trial that was changed with its counts in sight asks for more, and none is no trial") {
  records::Trial trial;
  trial.closes_on = on_day(20);
  CHECK_FALSE(trial_state(two(), trial, on_day(25)).after_looking());
  trial.sowings_changed.emplace();
  CHECK(trial_state(two(), trial, on_day(25)).after_looking());
  CHECK_THROWS_AS(trial_state({}, trial, on_day(25)), std::domain_error);
}
