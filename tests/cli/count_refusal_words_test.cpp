// The sentence for each fault, whole: what was seen before, what may have happened, what to type.
#include <doctest/doctest.h>

#include "cli/showing/hint_words.hpp"
#include "records/course.hpp"
#include "records/course_building.hpp"

using namespace plumule::records;
using plumule::cli::in_words;
using plumule::tests::counts;
using plumule::tests::k3;
using Looks = std::initializer_list<std::pair<const char*, const char*>>;

namespace {

constexpr std::size_t last = static_cast<std::size_t>(-1);
constexpr std::size_t none = static_cast<std::size_t>(-2);

// What is said where the count at `entered` of the looks is the one being typed.
std::string told(const Sowing& sowing, Looks looks, std::size_t entered = last,
                 const char* today = nullptr) {
  auto all = counts(looks);
  const auto trouble = plumule::tests::trouble_of(sowing, all);
  REQUIRE(trouble.has_value());
  if (entered == last) entered = all.size() - 1;
  if (entered == none) entered = all.size();
  return in_words(
      explain(sowing, all, *trouble, entered, today ? parse_date(today) : std::optional<Date>()));
}

}  // namespace

TEST_SUITE("the words of a refusal") {
  TEST_CASE("a total that falls") {
    CHECK(
        told(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=12"}}) ==
        "K3: 14 stood on Friday, 12 now. Two died? K3=12-2. Friday wrong? plumule amend K3=N --on "
        "2026-04-10.");
    CHECK(
        told(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=13"}}, last, "2026-04-14") ==
        "K3: 14 stood on Friday, 13 now. One died? K3=13-1. Friday wrong? plumule amend K3=N --on "
        "2026-04-10.");
    CHECK(told(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=1"}}) ==
          "K3: 14 stood on Friday, 1 now. 13 died? K3=1-13. Friday wrong? plumule amend K3=N --on "
          "2026-04-10.");
  }

  TEST_CASE("in a blind trial no other figure is named") {
    // Each earlier figure is one that the typed one does not hold; none may show.
    const auto hidden = [](Sowing sowing, Looks looks, std::size_t entered) {
      auto all = counts(looks);
      const auto trouble = plumule::tests::trouble_of(sowing, all);
      REQUIRE(trouble.has_value());
      return in_words(explain(sowing, all, *trouble, entered, {}, Figures::hidden));
    };
    const auto hides = [](const std::string& text, const char* figure) {
      CAPTURE(text);
      CHECK(text.find(figure) == std::string::npos);
      CHECK(text.rfind("K3: ", 0) == 0);
    };
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "=2"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "=2-3"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "=2..40"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "+45"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "=2-33"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=22"}, {"2026-04-14", "=17"}}, 0), "17");
    hides(hidden(k3(), {{"2026-04-10", "=4/17"}, {"2026-04-14", "=5/9"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "+2/9"}}, 1), "17");
    hides(hidden(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "+2/9"}}, 1), "19");
    auto towel = k3();
    towel.taken_out = true;
    hides(hidden(towel, {{"2026-04-10", "+17"}, {"2026-04-14", "=20"}}, 1), "17");
    hides(hidden(towel, {{"2026-04-10", "+17"}, {"2026-04-14", "=20"}}, 1), "+3");
    CHECK(hidden(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=12"}}, 1) ==
          "K3: 12 now is below what stood before. Some died? Type how many stand and how many were "
          "lost since the last look: K3=12-LOST. An earlier look wrong? plumule amend K3 shows "
          "them; plumule amend K3=N --on DATE puts one right.");
    // What stands, in a sentence that is true of it, and no hint that would count one too many.
    CHECK(
        hidden(k3(), {{"2026-04-08", "=14"}, {"2026-04-10", "=11-3"}, {"2026-04-14", "=10"}}, 2) ==
        "K3: 10 now is below what stood before. Some died? Type how many stand and how many were "
        "lost since the last look: K3=10-LOST. An earlier look wrong? plumule amend K3 shows "
        "them; plumule amend K3=N --on DATE puts one right.");
    CHECK(
        hidden(k3(), {{"2026-04-08", "=14"}, {"2026-04-10", "=11-3"}, {"2026-04-14", "=12"}}, 2) ==
        "K3: 12 now is below what had come up before. Some died? Type how many stand and how many "
        "were lost since the last look: K3=12-LOST. An earlier look wrong? plumule amend K3 shows "
        "them; plumule amend K3=N --on DATE puts one right.");
  }

  TEST_CASE("a late entry is told by its day, a look long ago by its date") {
    CHECK(told(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=12"}}, last, "2026-04-20") ==
          "K3: 14 stood on Friday, 12 on Tuesday. Two died? K3=12-2. Friday wrong? plumule amend "
          "K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-10", "=14"}, {"2026-04-24", "=12"}}) ==
          "K3: 14 stood on Fri 10 Apr, 12 now. Two died? K3=12-2. Fri 10 Apr wrong? plumule amend "
          "K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-12-20", "=14"}, {"2027-01-24", "=12"}}) ==
          "K3: 14 stood on Sun 20 Dec 2026, 12 now. Two died? K3=12-2. Sun 20 Dec 2026 wrong? "
          "plumule amend K3=N --on 2026-12-20.");
    CHECK(told(k3(), {{"2026-04-10T07:30", "=14"}, {"2026-04-10T18:00", "=12"}}) ==
          "K3: 14 stood on Friday 07:30, 12 now. Two died? K3=12-2. Friday 07:30 wrong? plumule "
          "amend K3=N --on 2026-04-10T07:30.");
  }

  TEST_CASE("a total that falls after losses") {
    CHECK(told(k3(), {{"2026-04-08", "=14"}, {"2026-04-10", "=12-2"}, {"2026-04-14", "=11"}}) ==
          "K3: 14 had come up by Friday and 12 stood, 11 now. One died? K3=11-1. Friday wrong? "
          "plumule amend K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-08", "=14"}, {"2026-04-10", "=12-2"}, {"2026-04-14", "=12"}}) ==
          "K3: 14 had come up by Friday and 12 stood, 12 now. 12 stand, and none died since? "
          "K3=12-0. Friday wrong? plumule amend K3=N --on 2026-04-10.");
  }

  TEST_CASE("standing and lost that do not add up to what stood") {
    CHECK(told(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=11-1"}}) ==
          "K3: 14 stood on Friday, 11 now: that is 3 fewer, not 1. Three died? K3=11-3. Friday "
          "wrong? plumule amend K3=N --on 2026-04-10.");
  }

  TEST_CASE("guesses") {
    CHECK(
        told(k3(), {{"2026-04-10", "=8..12"}, {"2026-04-14", "=6"}}) ==
        "K3: 8 to 12 up on Friday (taken as 10), 6 now: fewer than before. Some died? Type how "
        "many stand and how many were lost, such as K3=6-2. Friday wrong? plumule amend K3=N --on "
        "2026-04-10.");
    CHECK(told(k3(), {{"2026-04-10", "=8..12"}, {"2026-04-14", "+2"}, {"2026-04-15", "=9"}}) ==
          "K3: 12 up by Tuesday with a guess, 9 now: fewer than before. Some died? Type how many "
          "stand and how many were lost, such as K3=9-1. Tuesday wrong? plumule amend K3=N --on "
          "2026-04-14.");
    // It is the high end that more than the units sown cannot be.
    Sowing fewer = k3();
    fewer.units = 11;
    CHECK(told(fewer, {{"2026-04-10", "=8..12"}}, none) ==
          "K3: as many as 12 up on Fri 10 Apr 2026 by the guess, so 11 sown cannot be. Fri 10 Apr "
          "2026 wrong? plumule amend K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-10", "=10"}, {"2026-04-14", "=8..14"}}) ==
          "K3: 10 up on Friday, so a guess now cannot begin at 8. K3=10..14? Friday wrong? plumule "
          "amend K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-10", "=10"}, {"2026-04-14", "=8..14"}}, 0, "2026-04-10") ==
          "K3: 10 up now, but the guess of Tue 14 Apr begins at 8. The figure entered wrong? Type "
          "it again. Tue 14 Apr wrong? plumule amend K3=N --on 2026-04-14.");
  }

  TEST_CASE("more up than sown") {
    CHECK(told(k3(), {{"2026-04-10", "=22"}}) ==
          "K3: 20 sown, 22 up now. Counted wrong? Type it again. More were sown? plumule amend K3 "
          "--seeds 22.");
    CHECK(told(k3(), {{"2026-04-10", "=18"}, {"2026-04-14", "+5"}}) ==
          "K3: 20 sown, 18 up on Friday and 5 new make 23. Counted wrong? Type it again. More were "
          "sown? plumule amend K3 --seeds 23.");
    CHECK(told(k3(), {{"2026-04-10", "=18"}, {"2026-04-14", "+19"}}) ==
          "K3: 20 sown, 18 up on Friday and 19 new make 37. 19 in all? K3=19. More were sown? "
          "plumule amend K3 --seeds 37.");
    Sowing beet = k3();
    beet.unit = UnitKind::cluster;
    CHECK(told(beet, {{"2026-04-10", "=31"}}) ==
          "K3: 20 sown, 31 up now. Seedlings of clusters? Type units and seedlings, such as "
          "K3=20/31. More were sown? plumule amend K3 --clusters 31.");
    Sowing row = k3();
    row.units.reset();
    row.units_known = UnitsKnown::unknown;
    CHECK(told(row, {{"2026-04-10", "=1000000000"}, {"2026-04-14", "+1"}}) ==
          "K3: 1,000,000,000 is the most taken, 1000000000 up on Friday and 1 new make 1000000001. "
          "Counted wrong? Type it again.");
  }

  TEST_CASE("a late entry that a later count contradicts") {
    CHECK(told(k3(), {{"2026-04-08", "=16"}, {"2026-04-10", "=14"}}, 0, "2026-04-14") ==
          "K3: with 16 up in all on Wednesday there were 16 ever up, but 14 on Fri 10 Apr. The "
          "figure entered wrong? Type it again. Fri 10 Apr wrong? plumule amend K3=N --on "
          "2026-04-10.");
    CHECK(told(k3(), {{"2026-04-08", "=16"}, {"2026-04-10", "+5"}}, 0, "2026-04-14") ==
          "K3: with 16 up in all on Wednesday, there would be 21 up on Fri 10 Apr of 20 sown. The "
          "figure entered wrong? Type it again. Fri 10 Apr wrong? plumule amend K3=N --on "
          "2026-04-10.");
    CHECK(told(k3(), {{"2026-04-08", "=6"}, {"2026-04-09", "=2-4"}, {"2026-04-10", "=1-3"}}, 1,
               "2026-04-14") ==
          "K3: 3 lost on Fri 10 Apr, but only 2 stood on Thursday. The figure entered wrong? Type "
          "it again. Fri 10 Apr wrong? plumule amend K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-08", "=6/12"}, {"2026-04-10", "=7/11"}}, 0, "2026-04-08") ==
          "K3: 12 seedlings in all now, 11 on Fri 10 Apr. The figure entered wrong? Type it again. "
          "Fri 10 Apr wrong? plumule amend K3=UNITS/SEEDLINGS --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-08", "=12"}, {"2026-04-10", "=?/11"}}, 0, "2026-04-08") ==
          "K3: 12 units up and 11 seedlings on Fri 10 Apr: each unit that is up has a seedling at "
          "least. The figure entered wrong? Type it again. Fri 10 Apr wrong? plumule amend "
          "K3=UNITS/SEEDLINGS --on 2026-04-10.");
  }

  TEST_CASE("before the sowing, on its day, after its ending") {
    CHECK(told(k3(), {{"2026-04-02", "=0"}}) ==
          "K3 was sown on 2026-04-03, after 2026-04-02. Another day meant? --on DATE. An earlier "
          "K3? Name it with its year, such as K3@2025. The sowing date wrong? plumule amend K3 "
          "--sown DATE.");
    CHECK(told(k3(), {{"2026-04-03", "=2"}}) ==
          "K3 was sown on 2026-04-03; something up on that very day cannot be. Another day meant? "
          "--on DATE. Only looked? K3=same. The sowing date wrong? plumule amend K3 --sown DATE.");
    Sowing ended = k3();
    ended.ending = Ending{EndingKind::accident, *parse_moment("2026-04-20"), "knocked over"};
    CHECK(told(ended, {{"2026-04-21", "=2"}}) ==
          "K3@2026-04-03 ended on 2026-04-20 (knocked over), before 2026-04-21. Counted earlier? "
          "--on DATE. Ended too soon? plumule amend K3@2026-04-03 --reopen.");
  }

  TEST_CASE("more lost than stood") {
    CHECK(told(k3(), {{"2026-04-10", "=2"}, {"2026-04-14", "=5-3"}}) ==
          "K3: 3 lost now, but only 2 stood on Friday. Lost are those gone since the last look. "
          "K3=5-2? One came up and died since the last look? K3=5-2+1. Friday wrong? plumule "
          "amend K3=N --on 2026-04-10.");
    CHECK(told(k3(), {{"2026-04-10", "=5-1"}}) ==
          "K3: 1 lost now, but none stood before. Lost are those gone since the last look. K3=5-0? "
          "One came up and died since the last look? K3=5-0+1.");
  }

  TEST_CASE("seedlings") {
    CHECK(told(k3(), {{"2026-04-10", "=5/9"}, {"2026-04-12", "+1"}, {"2026-04-14", "=6/8"}}) ==
          "K3: 9 seedlings in all on Friday, 8 now. Seedlings are counted as ever up, also those "
          "gone since: type them in all. Friday wrong? plumule amend K3=UNITS/SEEDLINGS --on "
          "2026-04-10.");
    CHECK(told(k3(), {{"2026-04-14", "=9/5"}}) ==
          "K3: 9 units up and 5 seedlings now: each unit that is up has a seedling at least. Units "
          "come first, seedlings in all second: K3=5/9.");
    Sowing cells = k3();
    cells.unit = UnitKind::cell;
    cells.seeds_per_cell = 2;
    CHECK(told(cells, {{"2026-04-14", "=20/41"}}) ==
          "K3: 20 cells of 2 seeds, and 41 seedlings now. Counted wrong? Type it again. More seeds "
          "a cell? plumule amend K3 --per-cell 3.");
  }

  TEST_CASE("a total where sprouts are taken out") {
    Sowing towel = k3();
    towel.taken_out = true;
    CHECK(told(towel, {{"2026-04-10", "+9"}, {"2026-04-14", "=12"}}) ==
          "K3: sprouts are taken out of it at each look, so only new ones count. 12 in all? K3+3.");
    CHECK(told(towel, {{"2026-04-10", "=3"}}) ==
          "K3: sprouts are taken out of it at each look, so only new ones count. 3 new? K3+3.");
  }

  TEST_CASE("where the sowing itself was changed, the counts are told") {
    Sowing small = k3();
    small.units = 10;
    CHECK(told(small, {{"2026-04-10", "=14"}}, none) ==
          "K3: 14 up on Fri 10 Apr 2026, so 10 sown cannot be. Fri 10 Apr 2026 wrong? plumule "
          "amend K3=N --on 2026-04-10.");
    Sowing late = k3();
    late.sown = *parse_moment("2026-04-12");
    CHECK(told(late, {{"2026-04-10", "=14"}}, none) ==
          "K3 was sown on 2026-04-12, and was counted on 2026-04-10. The sowing date must not come "
          "after a count.");
    late.sown = *parse_moment("2026-04-10");
    CHECK(told(late, {{"2026-04-10", "=14"}}, none) ==
          "K3 was sown on 2026-04-10; something up on that very day cannot be.");
    Sowing towel = k3();
    towel.taken_out = true;
    CHECK(told(towel, {{"2026-04-10", "=14"}}, none) ==
          "K3: sprouts are taken out of it at each look, so only new ones count. Fri 10 Apr 2026 "
          "wrong? plumule amend K3+N --on 2026-04-10.");
    Sowing ended = k3();
    ended.ending = Ending{EndingKind::finished, *parse_moment("2026-04-09"), {}};
    CHECK(told(ended, {{"2026-04-10", "=14"}}, none) ==
          "K3@2026-04-03 ended on 2026-04-09, and was counted on 2026-04-10. The ending must not "
          "come before a count.");
  }

  TEST_CASE("an absurd figure") {
    std::vector<Count> all = {Count{*parse_moment("2026-04-10"), {CountKind::total, -4}, "", 0}};
    const auto trouble = derive(k3(), all);
    REQUIRE(trouble.has_value());
    CHECK(in_words(explain(k3(), all, *trouble, 0)) ==
          "K3: a count below 0 or above 1,000,000,000 cannot be. Type it again.");
  }
}
