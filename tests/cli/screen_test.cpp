// Lines on the screen: wrapping and width in letters.
#include "cli/showing/screen.hpp"

#include <doctest/doctest.h>

using plumule::cli::wrapped;

TEST_CASE("lines are wrapped at the width and continued at the indent") {
  CHECK(wrapped("one two three", 7) == "one two\nthree");
  CHECK(wrapped("one two three", 9, 2) == "one two\n  three");
  CHECK(wrapped("one\ntwo", 80, 2) == "one\n  two");
  CHECK(wrapped("", 10) == "");
}

TEST_CASE("a word longer than a line stands alone") {
  CHECK(wrapped("a bbbbbbbbbbbb c", 5) == "a\nbbbbbbbbbbbb\nc");
}

TEST_CASE("letters count, not bytes") { CHECK(wrapped("äää ööö", 7) == "äää ööö"); }

TEST_CASE("without a terminal there is no colour") {
  const plumule::cli::Screen screen;
  CHECK(screen.toned(plumule::cli::Tone::warning, "x") == "x");
}

TEST_CASE("nothing kept in a logbook commands the terminal") {
  using plumule::cli::harmless;
  CHECK(harmless("two\nlines, \xC3\xA4", false) == "two\nlines, \xC3\xA4");
  CHECK(harmless("a\x1B[2Jb\x07\x7F\tc\r", false) == "a?[2Jb??\tc?");
  CHECK(harmless("\xC2\x9B"
                 "31m",
                 true) == "?31m");
  CHECK(harmless("\x1B[1mbold\x1B[0m \x1B[8mhidden", true) == "\x1B[1mbold\x1B[0m ?[8mhidden");
  CHECK(harmless("\x1B[1m", false) == "?[1m");
}

TEST_CASE("what hides or turns the text around it is shown as its code") {
  using plumule::cli::harmless;
  CHECK(harmless("a\u202Eb\u200Bc\u2066d\uFEFF", false) == "a<U+202E>b<U+200B>c<U+2066>d<U+FEFF>");
  CHECK(harmless("\U000E0041", false) == "<U+E0041>");
  CHECK(harmless("caf\u00E9 \u4E2D \U0001F331 \u2600\uFE0F", false) ==
        "caf\u00E9 \u4E2D \U0001F331 \u2600\uFE0F");
  CHECK(harmless("torn \xE2\x80", false) == "torn \xE2\x80");
}

TEST_CASE("in JSON such a letter keeps its value and is written as JSON's own escape") {
  using plumule::cli::harmless_json;
  CHECK(harmless_json("{\"note\": \"a\u202Eb \u00E9\"}\n") == "{\"note\": \"a\\u202eb \u00E9\"}\n");
  CHECK(harmless_json("\"\x7F\u009B\U000E0041\"") == "\"\\u007f\\u009b\\udb40\\udc41\"");
}
