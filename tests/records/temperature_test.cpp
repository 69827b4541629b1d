// Temperatures in both scales. Figures by hand: C = (F - 32) / 1.8.
#include <doctest/doctest.h>

#include <cmath>

#include "records/temperature.hpp"

using namespace plumule::records;

namespace {

// Far outside of any temperature where it is none.
double celsius(const char* text, Degrees plain = Degrees::celsius) {
  const auto typed = parse_temperature(text, plain);
  return typed ? typed->celsius : -9999;
}

}  // namespace

TEST_SUITE("a temperature as it is typed") {
  TEST_CASE("a unit beside the number, in every way of writing it") {
    for (const char* text :
         {"64F", "64f", "64 F", "64°F", "64 °F", "64° f", "64ºF", "64˚F", "64 deg F", "64degF",
          "64 degrees Fahrenheit", "64 fahrenheit", "64℉", "+64F", " 64F ", "64.0F", "6.4e1F"}) {
      CAPTURE(text);
      CHECK(celsius(text) == 17.78);
      CHECK(parse_temperature(text)->unit_given);
      // What is said outright does not depend on the unit of plain numbers.
      CHECK(celsius(text, Degrees::fahrenheit) == 17.78);
    }
    for (const char* text : {"18C", "18c", "18 C", "18°C", "18 ° c", "18 deg C", "18 Celsius",
                             "18 centigrade", "18℃"}) {
      CAPTURE(text);
      CHECK(celsius(text, Degrees::fahrenheit) == 18);
      CHECK(parse_temperature(text)->unit_given);
    }
  }

  TEST_CASE("a plain number is of the unit asked for") {
    for (const char* text : {"64", "64.0", "64°", "64 deg", "+64"}) {
      CAPTURE(text);
      CHECK(celsius(text) == 64);
      CHECK(celsius(text, Degrees::fahrenheit) == 17.78);
      CHECK_FALSE(parse_temperature(text)->unit_given);
    }
    CHECK(celsius("-3.5") == -3.5);
    CHECK(celsius("32F") == 0);
    CHECK_FALSE(std::signbit(celsius("32F")));
    CHECK(celsius("-40F") == -40);
    CHECK(celsius("212F") == 100);
    CHECK(celsius("40F") == 4.44);
  }

  TEST_CASE("what is no temperature") {
    for (const char* text :
         {"",      "F",     "C",     "°",      "warm", "64K",   "64FF",       "64 F C",
          "64 Fa", "6 4F",  "64,5F", "1e999F", "nan",  "inf",   "+-4",        "--4",
          "0x40",  "64°°F", "64F°",  "64..",   "..64", "8..24", "64 degreesx"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_temperature(text).has_value());
    }
  }

  TEST_CASE("the lowest and the highest; a unit at one end is of both") {
    const auto range = [](const char* text, Degrees plain = Degrees::celsius) {
      return parse_temperatures(text, plain).value_or(TypedRange{-9999, -9999, false});
    };
    CHECK(range("8..24").low == 8);
    CHECK(range("8..24").high == 24);
    CHECK_FALSE(range("8..24").unit_given);
    for (const char* text : {"46..75F", "46F..75", "46 F..75 F", "46f..75F"}) {
      CAPTURE(text);
      CHECK(range(text).low == 7.78);
      CHECK(range(text).high == 23.89);
      CHECK(range(text).unit_given);
    }
    CHECK(range("46..75", Degrees::fahrenheit).high == 23.89);
    CHECK(range("46F..20C").high == 20);
    for (const char* text : {"8", "..", "8..", "..24", "8..x", "8...24", "8..24..30"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_temperatures(text).has_value());
    }
  }

  TEST_CASE("every tenth of a degree Fahrenheit is shown as it was typed") {
    for (int tenths = -760; tenths <= 2120; ++tenths)
      CHECK(fahrenheit_of(celsius_of(tenths / 10.0)) == tenths / 10.0);
    CHECK(shown_temperature(17.78) == "17.78 C");
    CHECK(shown_temperature(17.78, Degrees::fahrenheit) == "64 F");
    CHECK(shown_temperature(18.5) == "18.5 C");
    CHECK(shown_temperature(-17.8, Degrees::fahrenheit) == "0 F");
    CHECK(shown_temperatures(8, 24) == "8 to 24 C");
    CHECK(shown_temperatures(7.78, 23.89, Degrees::fahrenheit) == "46 to 75 F");
  }
}
