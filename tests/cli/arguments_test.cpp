// The command line: what is an option, what is a word, and what is refused.
#include "cli/options/arguments.hpp"

#include <doctest/doctest.h>

#include "support/close.hpp"

using namespace plumule;
using cli::Options;
using cli::WrongUsage;

namespace {

const records::Date today = *records::parse_date("2026-04-20");

Options some() {
  Options options;
  options.words("PAIR", "a pair", 0, cli::any_number);
  options.flag("doubtful", "a flag");
  options.text("why", "WORDS", "a text");
  options.erasable("why");
  options.texts("lot", "LOT", "a repeated text");
  options.whole("seeds", "N", "a whole number", 1, 1000);
  options.number("shift", "X", "a number");
  options.share("label", "SHARE", "a share");
  options.date("until", "a day");
  options.moment("on", "a moment");
  options.choice("setting", "WHERE", {"tray", "row"}, "a choice");
  return options;
}

std::string refusal(const std::vector<std::string>& typed) {
  const Options options = some();
  try {
    cli::read_arguments(options, typed, today);
  } catch (const WrongUsage& wrong) {
    return wrong.what();
  }
  return "";
}

}  // namespace

TEST_CASE("pairs, negative numbers, a lone dash and brackets are words") {
  const Options options = some();
  const std::vector<std::string> words = {"A1=12-2", "A2+3", "-2.5", "-", "[a,b]", "", "x=-1"};
  CHECK(cli::read_arguments(options, words, today).words() == words);
}

TEST_CASE("options may stand before, between and after the words") {
  const Options options = some();
  const auto given = cli::read_arguments(
      options, {"--log", "a.db", "A1=1", "--seeds", "50", "A2+3", "--json", "--why=a=b"}, today);
  CHECK(given.words() == std::vector<std::string>{"A1=1", "A2+3"});
  CHECK(given.text("log") == "a.db");
  CHECK(given.whole("seeds") == 50);
  CHECK(given.flag("json"));
  CHECK_FALSE(given.flag("doubtful"));
  CHECK(given.text("why") == "a=b");
}

TEST_CASE("after two dashes all is words") {
  const Options options = some();
  const auto given = cli::read_arguments(options, {"--", "--why", "-x"}, today);
  CHECK(given.words() == std::vector<std::string>{"--why", "-x"});
  CHECK_FALSE(given.has("why"));
}

TEST_CASE("a value may be negative, empty or begin with a dash and a digit") {
  const Options options = some();
  const auto given = cli::read_arguments(options, {"--shift", "-2.5", "--why", ""}, today);
  CHECK_CLOSE(*given.number("shift"), -2.5, 1e-15);
  CHECK(given.text("why") == "");
}

TEST_CASE("an option that repeats keeps all its values in order, another is refused") {
  const Options options = some();
  CHECK(cli::read_arguments(options, {"--lot", "A", "--lot=B"}, today).texts("lot") ==
        std::vector<std::string>{"A", "B"});
  CHECK(refusal({"--why", "a", "--why", "b"}) == "--why is given twice.");
}

TEST_CASE("a share is a fraction or a percentage, and 90 is neither") {
  const Options options = some();
  CHECK_CLOSE(*cli::read_arguments(options, {"--label", "0.9"}, today).number("label"), 0.9, 1e-15);
  CHECK_CLOSE(*cli::read_arguments(options, {"--label", "90%"}, today).number("label"), 0.9, 1e-15);
  CHECK(refusal({"--label", "90"}) == "--label 90: write 90% or 0.9.");
  CHECK(refusal({"--label", "-0.1"}) != "");
  CHECK(refusal({"--label", "101%"}) != "");
}

TEST_CASE("nan, inf, commas, fractions and numbers out of range are refused") {
  for (const char* text : {"nan", "inf", "-inf", "1,5", "1e999", "", " 1", "1x", "0x10"})
    CHECK(refusal({"--shift", text}) != "");
  for (const char* text : {"1.5", "0", "1001", "99999999999999999999", "ten", "nan"})
    CHECK(refusal({"--seeds", text}) != "");
}

TEST_CASE("days may be said as today and yesterday, counted from --today") {
  const Options options = some();
  const auto given =
      cli::read_arguments(options, {"--on", "yesterday", "--today", "2026-03-01"}, today);
  CHECK(records::to_text(*given.moment("on")) == "2026-02-28");
  const auto timed = cli::read_arguments(options, {"--on", "2026-04-01T07:30"}, today);
  CHECK(timed.moment("on")->minute_of_day == 450);
  CHECK(refusal({"--until", "2026-04-01T07:30"}) != "");
  CHECK(refusal({"--on", "2026-02-30"}) != "");
}

TEST_CASE("a missing value is not taken from the next option") {
  CHECK(refusal({"--why", "--doubtful"}) == "--why needs a value: WORDS.");
  CHECK(refusal({"--seeds"}) == "--seeds needs a value: a whole number.");
}

TEST_CASE("a misspelt option gets the nearest") {
  CHECK(refusal({"--doubtfull"}) ==
        "There is no option --doubtfull here. Did you mean --doubtful?");
  CHECK(refusal({"--setting", "trey"}) == "--setting trey: tray or row is possible.");
}

TEST_CASE("asking for an option that was not declared is a mistake of the command") {
  const Options options = some();
  const auto given = cli::read_arguments(options, {}, today);
  CHECK_THROWS_AS(given.text("seed"), std::logic_error);
}
