#include <doctest/doctest.h>

#include "records/count.hpp"
#include "records/said.hpp"

using namespace plumule::records;
using plumule::tests::said;

namespace {

std::string pair_said(const char* text) {
  return said([&] { parse_pair(text); });
}

constexpr const char* forms =
    " Write 12 (in all), +3 (new), 12-2 (standing, lost since), 28..32 (a guess), 5/9 (units, "
    "seedlings) or same.";

}  // namespace

TEST_SUITE("counts as typed") {
  TEST_CASE("each form of a pair is read as what it says") {
    struct Case {
      const char* text;
      const char* name;
      Entered entered;
    };
    const Case cases[] = {
        {"A1=12", "A1", {CountKind::total, 12, {}, 0, {}}},
        {"A1=0", "A1", {CountKind::total, 0, {}, 0, {}}},
        {"A2+3", "A2", {CountKind::newly, 3, {}, 0, {}}},
        {"A2+0", "A2", {CountKind::newly, 0, {}, 0, {}}},
        {"A2=+3", "A2", {CountKind::newly, 3, {}, 0, {}}},
        {"A1=12-2", "A1", {CountKind::standing, 12, {}, 2, {}}},
        {"A1=0-5", "A1", {CountKind::standing, 0, {}, 5, {}}},
        {"A1=28..32", "A1", {CountKind::total, 28, 32, 0, {}}},
        {"A1=28..28", "A1", {CountKind::total, 28, {}, 0, {}}},
        {"A1+2..4", "A1", {CountKind::newly, 2, 4, 0, {}}},
        {"A1=5/9", "A1", {CountKind::total, 5, {}, 0, 9}},
        {"A1=?/9", "A1", {CountKind::seedlings, 0, {}, 0, 9}},
        {"A1=/9", "A1", {CountKind::seedlings, 0, {}, 0, 9}},
        {"A1:12", "A1", {CountKind::total, 12, {}, 0, {}}},
        {"A1:+3", "A1", {CountKind::newly, 3, {}, 0, {}}},
        {"A1:12-2+1", "A1", {CountKind::standing, 12, {}, 3, {}}},
        {"A1=12all", "A1", {CountKind::total, 12, {}, 0, {}}},
        {"A1=12-2+1", "A1", {CountKind::standing, 12, {}, 3, {}}},
        {"A1+3/9", "A1", {CountKind::newly, 3, {}, 0, 9}},
        {"B1=same", "B1", {CountKind::newly, 0, {}, 0, {}}},
        {"A1@2025=12", "A1@2025", {CountKind::total, 12, {}, 0, {}}},
        {"A-1.x_2+7", "A-1.x_2", {CountKind::newly, 7, {}, 0, {}}},
        {"A1=1000000000", "A1", {CountKind::total, 1'000'000'000, {}, 0, {}}},
    };
    for (const Case& one : cases) {
      CAPTURE(one.text);
      const Pair pair = parse_pair(one.text);
      CHECK(pair.name == one.name);
      CHECK(pair.typed.entered == one.entered);
    }
  }

  TEST_CASE("what was entered is written as it would be typed, and read again the same") {
    for (const char* text :
         {"=12", "+3", "=12-2", "=28..32", "+2..4", "=5/9", "=/9", "=same", "=0", "=0-0", "+3/9"}) {
      CAPTURE(text);
      CHECK(to_text(parse_pair(std::string("A1") + text).typed.entered) == text);
    }
  }

  TEST_CASE("a number alone is told from one that says what it means") {
    CHECK(parse_pair("A1=12").typed.plain);
    for (const char* text : {"A1=12all", "A1=12-0", "A1+12", "A1=12..14", "A1=12/15", "A1=same"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_pair(text).typed.plain);
    }
    CHECK(parse_pair("A1=12-2").typed.came_lost == 0);
    CHECK(parse_pair("A1=12-2+1").typed.came_lost == 1);
    CHECK(to_text(parse_pair("A1=12-2+1").typed) == "=12-2+1");
    CHECK(to_text(parse_pair("A1=12-2").typed) == "=12-2");
  }

  // '=' at the front is a command's name to zsh, '?' and '*' are patterns to zsh and fish.
  TEST_CASE("no form is a sign of a shell") {
    for (const char* text :
         {"A1=12", "A1+3", "A1=12-2", "A1=28..32", "A1=5/9", "A1=?/9", "A1=same"}) {
      const std::string written = "A1" + to_text(parse_pair(text).typed.entered);
      CAPTURE(written);
      CHECK(written.find_first_not_of("A0123456789same=+-./") == std::string::npos);
    }
  }

  TEST_CASE("what was entered is told in words") {
    const auto words = [](const char* text) { return in_words(parse_pair(text).typed.entered); };
    CHECK(words("A1=14") == "14 up in all");
    CHECK(words("A1+3") == "3 new");
    CHECK(words("A1=12-2") == "12 standing, 2 lost");
    CHECK(words("A1=12-0") == "12 standing, none lost");
    CHECK(words("A1=28..32") == "28 to 32 up in all");
    CHECK(words("A1=same") == "nothing new");
    CHECK(words("A1=5/9") == "5 up in all, 9 seedlings");
    CHECK(words("A1=?/1") == "1 seedling");
  }

  TEST_CASE("what is no pair is refused with what may be typed") {
    CHECK(pair_said("A1") ==
          "\"A1\" is not a pair of a label and a count. Write A1=12 (in all), A1+3 (new), A1=12-2 "
          "(standing, lost since) or A1=same.");
    CHECK(pair_said("=12") == "\"=12\" names no sowing. Write A1=12, or A1+3.");
    CHECK(pair_said("A1=") == std::string("A1: A count is missing.") + forms);
    CHECK(pair_said("A1=-") ==
          "A1: \"-\" means that nobody looked, which is no count: leave the pair out.");
    CHECK(pair_said("A1=-3") ==
          "A1: \"-3\" is below 0, and no count is. If some were lost, write how many stand and how "
          "many went: 12-2.");
    CHECK(pair_said("A1=2.5") == "A1: \"2.5\" is not a count: only whole numbers are counted.");
    CHECK(pair_said("A1=2,5") == "A1: \"2,5\" is not a count: only whole numbers are counted.");
    CHECK(pair_said("A1=1000000001") ==
          "A1: \"1000000001\" is absurd; 1,000,000,000 is the most that is taken.");
    CHECK(pair_said("A1=99999999999999999999999999") ==
          "A1: \"99999999999999999999999999\" is absurd; 1,000,000,000 is the most that is taken.");
    CHECK(pair_said("A1=32..28") ==
          "A1: \"32..28\" is a guess with its ends swapped; write the low one first, 28..32.");
    CHECK(pair_said("A1+12-2") ==
          "A1: \"12-2\" mixes new with lost; write how many stand and how many were lost since, "
          "such as 12-2.");
    CHECK(pair_said("A1+same") == "A1: \"+same\" is not a count; write =same, or +0.");
    for (const char* text :
         {"nan",   "inf", "1e3",   "twelve", "12 ",     " 12",   "0x10",   "5/",
          "?/",    "?",   "12-",   "..3",    "3..",     "SAME",  "½",      "12-2-1",
          "5/9/2", "all", "12-2+", "12-+1",  "12-2all", "+3all", "1..2all"}) {
      CAPTURE(text);
      const std::string sentence = pair_said((std::string("A1=") + text).c_str());
      CHECK(sentence.rfind("A1: \"", 0) == 0);
      CHECK(sentence.find(forms) != std::string::npos);
    }
  }
}
