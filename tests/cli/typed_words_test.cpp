// Commands that a screen prints, as they have to be typed where it was printed.
#include "cli/showing/typed_words.hpp"

#include <doctest/doctest.h>

using plumule::cli::log_typed;
using plumule::cli::quoted;
using plumule::cli::with_log;

TEST_CASE("a word is quoted only where a shell would read a sign in it") {
  CHECK(quoted("beans.db") == "beans.db");
  CHECK(quoted("/home/ann/2026/beans.db") == "/home/ann/2026/beans.db");
  CHECK(quoted("my beans.db") == "'my beans.db'");
  CHECK(quoted("$HOME") == "'$HOME'");
  CHECK(quoted("Ann's.db") == "'Ann'\\''s.db'");
  CHECK(quoted("") == "''");
}

TEST_CASE("the logbook is typed again where the command line named it") {
  CHECK(log_typed({"count", "A1=3"}).empty());
  CHECK(log_typed({"--log", "beans.db", "count"}) == "--log beans.db");
  CHECK(log_typed({"count", "--log=my beans.db"}) == "--log 'my beans.db'");
  CHECK(log_typed({"count", "--log"}).empty());
}

TEST_CASE("each command of a text says the logbook, and nothing else does") {
  const auto told = [](const char* text) { return with_log(text, "--log b.db"); };
  CHECK(told("Not meant? plumule undo") == "Not meant? plumule --log b.db undo");
  CHECK(told("`plumule init` makes one") == "`plumule --log b.db init` makes one");
  CHECK(told("plumule lot X; plumule\n  sow A1") ==
        "plumule --log b.db lot X; plumule --log b.db\n  sow A1");
  SUBCASE("said already") {
    CHECK(told("plumule --log a.db check") == "plumule --log a.db check");
    CHECK(told(told("plumule undo").c_str()) == "plumule --log b.db undo");
  }
  SUBCASE("no command") {
    for (const char* text :
         {"the plumule is bent", "plumule", "plumule ", "plumules count", "try/plumule.db undo",
          "an older plumule wrote it", "epiplumule count A1=3", "plumulecount"})
      CHECK(told(text) == text);
  }
  SUBCASE("somebody's own words") {
    CHECK(told("There is no lot \"plumule count\". All: plumule lot") ==
          "There is no lot \"plumule count\". All: plumule --log b.db lot");
    CHECK(told("Journal line 1 (plumule count A1=12) is missing") ==
          "Journal line 1 (plumule count A1=12) is missing");
  }
}
