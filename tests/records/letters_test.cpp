// Letters that command a terminal, hide, or turn direction. Codes: Unicode, general categories.
#include "records/letters.hpp"

#include <doctest/doctest.h>

using namespace plumule::records;

TEST_SUITE("letters that are not seen") {
  TEST_CASE("the first letter of a text, and a byte that begins none") {
    CHECK(first_letter("a\u202E").code == 'a');
    CHECK(first_letter("\u202Ea").code == 0x202E);
    CHECK(first_letter("\u202Ea").bytes == 3);
    CHECK(first_letter("\U000E0041").code == 0xE0041);
    CHECK(first_letter("\xE2\x80").bytes == 1);
    CHECK(first_letter("\xFF").bytes == 1);
  }

  TEST_CASE("what hides or turns; what has a shape does not") {
    for (const char* text : {"\u202A", "\u202E", "\u2066", "\u2069", "\u200B", "\u200D", "\u200F",
                             "\uFEFF", "\u00AD", "\u061C", "\u2028", "\u2060", "\U000E0020"}) {
      CAPTURE(text);
      CHECK(is_hidden(first_letter(text).code));
    }
    for (const char* text : {"a", " ", "\u00A0", "\u00E9", "\u2010", "\u2026", "\u4E2D", "\uFE0F",
                             "\U0001F331", "\u05D0", "\u0627"}) {
      CAPTURE(text);
      CHECK_FALSE(is_hidden(first_letter(text).code));
    }
    CHECK(code_of(0x202E) == "U+202E");
    CHECK(code_of(0x1B) == "U+001B");
    CHECK(code_of(0xE0041) == "U+E0041");
  }

  TEST_CASE("control characters; tabs are none, line ends where a text may have lines") {
    CHECK(control_in("a\x1B[2J") == char32_t{0x1B});
    CHECK(control_in("\x7F") == char32_t{0x7F});
    CHECK(control_in("\u009B") == char32_t{0x9B});
    CHECK(control_in("a\tb \u00E9 \u202E") == std::nullopt);
    CHECK(control_in("two\nlines") == char32_t{'\n'});
    CHECK(control_in("two\nlines\r\nthree", true) == std::nullopt);
    CHECK(control_in("a\rb", true) == char32_t{'\r'});
  }
}
