// From a history to numbers: what counts as a look, what is left out, and the two clocks.
#include "analysis/course/sowing_course.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::as_closed;
using analysis::Clock;
using analysis::sowing_course;

TEST_CASE("days are fractions of a day from the moment of sowing") {
  const auto course = sowing_course(history("A", 50, {{3.25, 4}, {5, 9}}));
  REQUIRE(course.course.looks.size() == 2);
  CHECK_CLOSE(course.course.looks[0].time, 3.25, 1e-12);
  CHECK_CLOSE(course.course.looks[1].total, 9, 1e-12);
  CHECK(course.up == 9);
  CHECK(course.units == 50);
}

TEST_CASE("an empty look on the sowing day is no look, but says that it was looked at") {
  const auto course = sowing_course(history("A", 50, {{0, 0}}));
  CHECK(course.looked);
  CHECK(course.course.looks.empty());
}

TEST_CASE("a look that counted only seedlings is passed over, and its seedlings kept") {
  auto given = history("A", 20, {{4, 5}, {6, 5}, {8, 9}});
  given.counts[1].entered.kind = records::CountKind::seedlings;
  given.counts[1].entered.value = 0;  // as a count of seedlings alone is kept
  given.counts[1].entered.seedlings = 11;
  const auto course = sowing_course(given);
  CHECK(course.course.looks.size() == 2);
  CHECK(course.seedlings == 11);
  CHECK_FALSE(course.seedlings_of_units);
}

TEST_CASE("what was lost since the look before adds up beside what ever came up") {
  auto given = history("A", 30, {{4, 20}, {6, 28}, {8, 28}, {9, 28}, {12, 28}});
  const auto standing = [&](std::size_t look, std::int64_t now, std::int64_t lost) {
    given.counts[look].entered = {records::CountKind::standing, now, std::nullopt, lost};
  };
  standing(2, 16, 12);
  standing(4, 8, 8);
  REQUIRE_FALSE(derive(given.sowing, given.counts));
  const auto course = sowing_course(given);
  CHECK(course.up == 28);
  CHECK(course.lost == 20);
  CHECK(course.up - course.lost == records::standing_at(given.counts, 4));
  // What a day did not know yet, or a trial that closed on it, is not lost by then.
  CHECK(sowing_course(analysis::as_of(given, on_day(8))).lost == 12);
  CHECK(sowing_course(as_closed(given, on_day(7), false)).lost == 0);
  CHECK(sowing_course(as_closed(given, on_day(7), true)).lost == 12);
}

TEST_CASE("rotted and empty units never come up, hard and not found ones might") {
  auto given = history("A", 20, {{4, 5}});
  const auto assess = [&](records::Outcome outcome, std::int64_t units) {
    given.assessments.push_back({0, on_day(10), outcome, units, ""});
  };
  assess(records::Outcome::rotted, 4);
  assess(records::Outcome::empty, 2);
  assess(records::Outcome::hard, 3);
  assess(records::Outcome::not_found, 1);
  CHECK_CLOSE(sowing_course(given).course.never, 6, 1e-12);
}

TEST_CASE("a failed sowing never looked at came to nothing, an accident is known as such") {
  const auto failed = sowing_course(ended(history("A", 20, {}), 9, records::EndingKind::failed));
  CHECK(failed.looked);
  REQUIRE(failed.course.looks.size() == 1);
  CHECK_CLOSE(failed.course.looks[0].time, 9.5, 1e-12);
  const auto accident =
      sowing_course(ended(history("B", 20, {{4, 3}}), 5, records::EndingKind::accident));
  CHECK(accident.stopped_early);
  CHECK(accident.up == 3);
}

TEST_CASE("an accident up to the day that a trial closed on is known to it, a later one is not") {
  const auto knocked =
      ended(history("A", 20, {{5, 4}, {20, 9}}), 20, records::EndingKind::accident);
  CHECK(as_closed(knocked, on_day(20), false).sowing.ending.has_value());
  CHECK_FALSE(as_closed(knocked, on_day(19), false).sowing.ending.has_value());
  // A look that finishes the trial moves the day up to which it knows.
  CHECK(as_closed(knocked, on_day(19), true).sowing.ending.has_value());
  CHECK(as_closed(knocked, on_day(19), true).counts.size() == 2);
  CHECK(as_closed(knocked, on_day(19), false).counts.size() == 1);
  const auto done = ended(history("A", 20, {{5, 4}, {20, 9}}), 20);
  CHECK(as_closed(done, on_day(19), false).sowing.ending.has_value());
}

TEST_CASE("an unknown number sown gives days and no percentage") {
  auto given = history("A", 20, {{4, 3}});
  given.sowing.units_known = records::UnitsKnown::unknown;
  const auto course = sowing_course(given);
  CHECK_FALSE(course.units.has_value());
  CHECK_FALSE(course.course.sown.has_value());
}

TEST_CASE("the wetting clock starts at the recorded wetting, else the soak hours before sowing") {
  auto given = in_trial(history("A", 20, {{4, 3}}), "soak");
  std::vector<records::Treatment> treatments(1);
  treatments[0].label = "soak";
  treatments[0].soak_hours = 12;
  CHECK_CLOSE(analysis::days_wetted_before(given.sowing, treatments), 0.5, 1e-12);
  given.sowing.wetted = records::Moment{on_day(-1), 0};
  CHECK_CLOSE(analysis::days_wetted_before(given.sowing, treatments), 1, 1e-12);

  const auto course = sowing_course(given, 1);
  const auto wetted = analysis::on_clock(course, Clock::wetting);
  REQUIRE(wetted.looks.size() == 2);  // nothing was up when it was sown
  CHECK_CLOSE(wetted.looks[0].time, 1, 1e-12);
  CHECK_CLOSE(wetted.looks[0].total, 0, 1e-12);
  CHECK_CLOSE(wetted.looks[1].time, 5, 1e-12);
  CHECK(analysis::on_clock(course, Clock::sowing).looks.size() == 1);
}

TEST_CASE("what is read every day goes by whole days, the day's last count") {
  auto given = history("A", 20, {{4.3, 3}, {4.7, 5}, {6.5, 8}});
  const auto sowing = analysis::followed(given, on_day(-2));
  REQUIRE(sowing.counts.size() == 2);
  CHECK(sowing.sown_on == 2);
  CHECK(sowing.counts[0].day == 6);
  CHECK(sowing.counts[0].up == 5);
  CHECK(sowing.counts[1].day == 8);
}
