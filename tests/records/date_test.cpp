#include "records/date.hpp"

#include <doctest/doctest.h>

#include "records/said_date.hpp"

using namespace plumule::records;

TEST_SUITE("dates") {
  TEST_CASE("a date is four, two and two digits of a day that exists") {
    for (const char* good :
         {"2026-04-03", "2024-02-29", "2000-02-29", "1000-01-01", "9999-12-31"}) {
      CAPTURE(good);
      REQUIRE(parse_date(good).has_value());
      CHECK(to_text(*parse_date(good)) == good);
    }
    // 1900 was no leap year and 2000 was (Gregorian rule, ISO 8601).
    for (const char* bad :
         {"2026-02-29", "1900-02-29", "2026-02-30", "2026-13-01", "2026-00-10", "2026-04-00",
          "2026-04-31", "26-04-03", "2026-4-3", "2026/04/03", "03.04.2026", "0999-01-01", "", "now",
          "2026-04-03 ", "2026-04-03T07:30", "+026-04-03"}) {
      CAPTURE(bad);
      CHECK_FALSE(parse_date(bad).has_value());
    }
  }

  TEST_CASE("a moment is a date, with or without a time of day") {
    CHECK(to_text(*parse_moment("2026-04-03")) == "2026-04-03");
    CHECK(to_text(*parse_moment("2026-04-03T07:30")) == "2026-04-03T07:30");
    CHECK(to_text(*parse_moment("2026-04-03 23:59")) == "2026-04-03T23:59");
    for (const char* bad : {"2026-04-03T24:00", "2026-04-03T07:60", "2026-04-03T7:30",
                            "2026-04-03T07:30:00", "2026-02-30T07:30", "2026-04-03X07:30"}) {
      CAPTURE(bad);
      CHECK_FALSE(parse_moment(bad).has_value());
    }
  }

  TEST_CASE("without a time of day it is noon, and comes back as untimed") {
    const Moment day = *parse_moment("2026-04-03");
    CHECK(day.minutes() == parse_moment("2026-04-03T12:00")->minutes());
    CHECK(Moment::from_minutes(day.minutes(), false) == day);
    CHECK_FALSE(Moment::from_minutes(day.minutes(), true) == day);
    // 1970-01-01T00:00 is 0 by definition of the count; one minute earlier is the day before.
    CHECK(parse_moment("1970-01-01T00:00")->minutes() == 0);
    CHECK(to_text(Moment::from_minutes(-1, true)) == "1969-12-31T23:59");
    CHECK(to_text(Moment::from_minutes(-1440, true)) == "1969-12-31T00:00");
  }

  TEST_CASE("days alone are compared where either time is unknown") {
    const auto at = [](const char* text) { return *parse_moment(text); };
    CHECK(earlier(at("2026-04-03"), at("2026-04-04")));
    CHECK_FALSE(earlier(at("2026-04-03T07:30"), at("2026-04-03")));
    CHECK_FALSE(earlier(at("2026-04-03"), at("2026-04-03T23:59")));
    CHECK(earlier(at("2026-04-03T07:30"), at("2026-04-03T07:31")));
    CHECK_FALSE(earlier(at("2026-04-03T07:30"), at("2026-04-03T07:30")));
  }

  TEST_CASE("days are told as a grower says them") {
    // 2026-04-06 is a Monday, 2000-01-01 was a Saturday (calendar).
    CHECK(spoken(*parse_date("2026-04-06")) == "Mon 6 Apr");
    CHECK(spoken(*parse_date("2000-01-01"), true) == "Sat 1 Jan 2000");
    CHECK(days_between(*parse_moment("2026-04-03"), *parse_moment("2026-04-05T00:00")) == 1.5);
  }

  TEST_CASE("a text that is no date is answered with the mend") {
    CHECK(date_trouble("") == "the date is empty; write it as 2026-04-03");
    CHECK(date_trouble("3/4/2026") ==
          "\"3/4/2026\" can be read in more than one way; write the date as year-month-day, "
          "2026-04-03 for the third of April");
    CHECK(date_trouble("2026-02-30") == "\"2026-02-30\" is a day that does not exist");
    CHECK(date_trouble("2026-04-03T25:00") ==
          "\"2026-04-03T25:00\" has no readable time of day; write 2026-04-03T07:30, or leave the "
          "time out");
    CHECK(date_trouble("03-04-26") ==
          "\"03-04-26\" has a year of two digits; write all four, 2026-04-03");
    CHECK(date_trouble("yesterday") ==
          "\"yesterday\" is not a date; write it as year-month-day, 2026-04-03");
  }

  // The weekdays are those of the calendar of 2026: 20 April is a Monday.
  TEST_CASE("a day as it is said, where one day is meant") {
    const Date today = *parse_date("2026-04-20");
    const auto said = [&](const char* text, bool ahead = false) {
      const auto date = parse_said_date(text, today, ahead);
      return date ? to_text(*date) : std::string("none");
    };
    CHECK(said("today") == "2026-04-20");
    CHECK(said("yesterday") == "2026-04-19");
    CHECK(said("Sat") == "2026-04-18");
    CHECK(said("saturday") == "2026-04-18");
    CHECK(said("Tue") == "2026-04-14");
    CHECK(said("18 Apr") == "2026-04-18");
    CHECK(said("18 april") == "2026-04-18");
    CHECK(said("Apr 18") == "2026-04-18");
    CHECK(said("18-apr-2025") == "2025-04-18");
    CHECK(said("Sat 18 Apr") == "2026-04-18");
    CHECK(said("Sat, 18 Apr. 2026") == "2026-04-18");
    CHECK(said("20 Dec") == "2025-12-20");
    CHECK(said("20 Apr") == "2026-04-20");
    CHECK(said("18.4.") == "2026-04-18");
    CHECK(said("18.4") == "2026-04-18");
    CHECK(said("18.04.2025") == "2025-04-18");
    CHECK(said("3. 4. 2026") == "2026-04-03");
    CHECK(said("Sat 18.4.") == "2026-04-18");
    CHECK(said("11.5.", true) == "2026-05-11");
    CHECK(said("11 May", true) == "2026-05-11");
    CHECK(said("20 Apr", true) == "2026-04-20");
    CHECK(parse_said_date("2 Jan", *parse_date("2025-12-30"), true) == parse_date("2026-01-02"));
    // Which one, or none at all.
    for (const char* none :
         {"Mon",          "sa",         "",          " ",     "18",          "Apr",
          "30 Feb",       "Sun 18 Apr", "21 Apr",    "1 Sep", "18 Apr 26",   "18/Apr",
          "18 4",         "4.18.2026",  "18.4.26",   "30.2.", "18.4.2026.1", ".18.4.",
          "18..4",        "Sun 18.4.",  "Apr 18.4.", "21.4.", "18.",         "3/4",
          "18 Apr 07:30", "x 18 Apr",   "18 18 Apr", "0 Apr", "29 Feb"}) {
      CAPTURE(none);
      CHECK(said(none) == "none");
    }
    CHECK(said("Sat", true) == "none");
    CHECK(said("19 Apr", true) == "none");
  }

  TEST_CASE("a moment as it is said") {
    const Date today = *parse_date("2026-04-20");
    const auto said = [&](const char* text) {
      const auto moment = parse_said_moment(text, today);
      return moment ? to_text(*moment) : std::string("none");
    };
    CHECK(said("2026-04-11") == "2026-04-11");
    CHECK(said("2026-04-11T08:30") == "2026-04-11T08:30");
    CHECK(said("2026-04-11 8:30") == "2026-04-11T08:30");
    CHECK(said("11.4. 8:30") == "2026-04-11T08:30");
    CHECK(said("Sat 18:05") == "2026-04-18T18:05");
    CHECK(said("Sat, 18 Apr 2026, 0:00") == "2026-04-18T00:00");
    CHECK(said("yesterday 23:59") == "2026-04-19T23:59");
    CHECK(said("7:15") == "2026-04-20T07:15");
    CHECK(said("Sat") == "2026-04-18");
    for (const char* none :
         {"Mon 8:30", "Sat 24:00", "Sat 8:3", "Sat 8:60", "Sat :30", "8:30 Sat", "8:30:00",
          "2026-02-30 8:30", "", " ", ":", "Sat 8.30", "Sat 123:00"}) {
      CAPTURE(none);
      CHECK(said(none) == "none");
    }
    // What is answered is about the day.
    CHECK(said_date_trouble("Mon 8:30", today) == said_date_trouble("Mon", today));
    CHECK(said_date_trouble("30.2. 8:30", today) == "\"30.2.\" is a day that does not exist");
  }

  TEST_CASE("a said day that may be two is answered with both") {
    const Date today = *parse_date("2026-04-20");
    const auto trouble = [&](const char* text, bool ahead = false) {
      return said_date_trouble(text, today, ahead);
    };
    CHECK(trouble("Mon") ==
          "\"Mon\" can be Mon 20 Apr 2026 (2026-04-20) or Mon 13 Apr 2026 (2026-04-13); write the "
          "one that is meant");
    CHECK(trouble("Sat", true) ==
          "\"Sat\" can be Sat 25 Apr 2026 (2026-04-25) or Sat 2 May 2026 (2026-05-02); write the "
          "one that is meant");
    CHECK(trouble("1 Sep") ==
          "\"1 Sep\" can be Tue 1 Sep 2026 (2026-09-01) or Mon 1 Sep 2025 (2025-09-01); write the "
          "one that is meant");
    CHECK(trouble("21.4.") ==
          "\"21.4.\" can be Tue 21 Apr 2026 (2026-04-21) or Mon 21 Apr 2025 (2025-04-21); write "
          "the one that is meant");
    CHECK(trouble("3/4/2026") ==
          "\"3/4/2026\" can be Fri 3 Apr 2026 (2026-04-03) or Wed 4 Mar 2026 (2026-03-04); write "
          "the one that is meant");
    CHECK(trouble("18/4") == "for Sat 18 Apr 2026 write 2026-04-18, not \"18/4\"");
    CHECK(trouble("Sun 18 Apr") ==
          "\"Sun 18 Apr\": that day is Sat 18 Apr 2026; is the weekday wrong, or the day?");
    CHECK(trouble("30.2.") == "\"30.2.\" is a day that does not exist");
    CHECK(trouble("29 Feb 2026") == "\"29 Feb 2026\" is a day that does not exist");
    CHECK(trouble("18.4.26") ==
          "\"18.4.26\" has no year of four digits; write all four, 2026-04-03");
    CHECK(trouble("soon") ==
          "\"soon\" is not a date; write it as year-month-day, 2026-04-03, or say it: yesterday, "
          "Sat, 18.4., 18 Apr");
    CHECK(trouble("2026-02-30") == "\"2026-02-30\" is a day that does not exist");
    for (const char* text : {"", "/", "//", "1/", "99/99", "0/0/0", ".", "..", "40 Apr", "1/1/26"})
      CHECK_FALSE(trouble(text).empty());
  }
}
