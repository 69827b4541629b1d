// Wrapping, tables and tones.
#include "report/parts/terminal.hpp"

#include <doctest/doctest.h>

using namespace plumule::report;

TEST_CASE("lines keep the width, a long word stands alone") {
  const Style style{false, 20};
  CHECK(paragraph(style, "one two three four five six") == "one two three four\nfive six\n");
  CHECK(paragraph(style, "aaaaaaaaaaaaaaaaaaaaaaaaaaa b", 2) ==
        "  aaaaaaaaaaaaaaaaaaaaaaaaaaa\n  b\n");
  CHECK(paragraph(style, "") == "");
}

TEST_CASE("tones are codes only where colour is wanted") {
  CHECK(toned({false, 80}, Tone::warning, "x") == "x");
  CHECK(toned({true, 80}, Tone::strong, "x") == "\033[1mx\033[0m");
  CHECK(columns("\033[1mx\033[0m") == 1);
  CHECK(columns("\xc3\xa9t\xc3\xa9") == 3);
  CHECK(columns("a\u202Eb") == 10);  // a<U+202E>b
}

TEST_CASE("a table is as wide as its widest cells, figures to the right") {
  Table table({{"name"}, {"up", true}});
  table.row({"A1", "7"});
  table.row({"long name", "100"});
  CHECK(table.text({false, 80}) == "name        up\nA1           7\nlong name  100\n");
}

TEST_CASE("a table that is too wide wraps its last column, or is told row by row") {
  Table table({{"name"}, {"up", true}, {"remark"}});
  table.row({"A1", "7", "by the door"});
  table.row({"B2", "", "in shade all of the day"});
  CHECK(table.text({false, 24}) ==
        "name  up  remark\nA1     7  by the door\nB2        in shade all\n          of the day\n");
  CHECK(table.text({false, 20}) ==
        "A1: up 7, remark by\n  the door\nB2: remark in shade\n  all of the day\n");
}
