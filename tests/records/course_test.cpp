// Each rule of a course, with the totals that follow from what was entered.
#include "records/course.hpp"

#include <doctest/doctest.h>

#include "records/course_building.hpp"

using namespace plumule::records;
using plumule::tests::counts;
using plumule::tests::k3;
using Looks = std::initializer_list<std::pair<const char*, const char*>>;

namespace {

std::vector<std::int64_t> totals(const Sowing& sowing, Looks looks) {
  auto all = counts(looks);
  REQUIRE_FALSE(derive(sowing, all).has_value());
  std::vector<std::int64_t> found;
  found.reserve(all.size());
  for (const Count& count : all) found.push_back(count.total);
  return found;
}

void check_fault(const Sowing& sowing, Looks looks, Fault fault, std::size_t index) {
  auto all = counts(looks);
  const auto trouble = plumule::tests::trouble_of(sowing, all);
  REQUIRE(trouble.has_value());
  CHECK(trouble->fault == fault);
  CHECK(trouble->index == index);
}

using Totals = std::vector<std::int64_t>;

// What the last of the looks, a number alone, is taken as: "=12", "=12-0", or "?" where it may be
// either.
std::string taken_as(const Sowing& sowing, Looks looks, std::size_t index) {
  auto all = counts(looks);
  const auto trouble = settle_plain(sowing, all, index);
  if (!trouble) return to_text(all[index].entered);
  CHECK(trouble->fault == Fault::two_readings);
  CHECK(trouble->index == index);
  return "?";
}

}  // namespace

TEST_SUITE("courses") {
  TEST_CASE("a total is itself, new ones add to the look before") {
    CHECK(totals(k3(), {{"2026-04-08", "=3"},
                        {"2026-04-09", "+4"},
                        {"2026-04-10", "=same"},
                        {"2026-04-11", "=9"}}) == Totals{3, 7, 7, 9});
  }

  TEST_CASE("standing counts with all that were lost so far") {
    // 10 up; 12 stand and 2 of the 10 went, so 14 were ever up; 11 stand and 3 more went: 16.
    const Looks looks = {{"2026-04-08", "=10"},
                         {"2026-04-09", "=12-2"},
                         {"2026-04-10", "=11-3"},
                         {"2026-04-11", "+1"},
                         {"2026-04-12", "=12-0"}};
    CHECK(totals(k3(), looks) == Totals{10, 14, 16, 17, 17});
    auto all = counts(looks);
    REQUIRE_FALSE(derive(k3(), all).has_value());
    CHECK(standing_at(all, 0) == 10);
    CHECK(standing_at(all, 1) == 12);
    CHECK(standing_at(all, 2) == 11);
    CHECK(standing_at(all, 4) == 12);
  }

  TEST_CASE("of a guess the middle counts, rounded down") {
    CHECK(totals(k3(), {{"2026-04-08", "=4..7"}, {"2026-04-09", "+2..3"}}) == Totals{5, 7});
    // The same guess again is no fall: its low end is held against the low end before.
    CHECK(totals(k3(), {{"2026-04-08", "=8..12"}, {"2026-04-09", "=8..12"}}) == Totals{10, 10});
    check_fault(k3(), {{"2026-04-08", "=8..12"}, {"2026-04-09", "=7..15"}}, Fault::guess_below, 1);
    check_fault(k3(), {{"2026-04-08", "=10"}, {"2026-04-09", "=9..15"}}, Fault::guess_below, 1);
    check_fault(k3(), {{"2026-04-08", "=8..12"}, {"2026-04-09", "=7"}}, Fault::total_falls, 1);
    check_fault(k3(), {{"2026-04-08", "=18..22"}}, Fault::more_than_sown, 0);
    check_fault(k3(), {{"2026-04-08", "=18"}, {"2026-04-09", "+1..3"}}, Fault::more_than_sown, 1);
  }

  TEST_CASE("a guess gives way to a later figure inside it, so that nobody need have died") {
    CHECK(totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "=9"}}) == Totals{9, 9});
    CHECK(totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "=8"}}) == Totals{8, 8});
    CHECK(totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "=14"}}) == Totals{12, 14});
    CHECK(totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "=7-1"}}) == Totals{8, 8});
    // Less what came between, of a guess its low end.
    CHECK(totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "+2"}, {"2026-04-10", "=12"}}) ==
          Totals{10, 12, 12});
    CHECK(
        totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "+1..3"}, {"2026-04-10", "=10"}}) ==
        Totals{9, 10, 10});
    CHECK(totals(k3(), {{"2026-04-08", "=8"}, {"2026-04-09", "+2..6"}, {"2026-04-10", "=11"}}) ==
          Totals{8, 11, 11});
    // A later guess settles an earlier one by its middle.
    CHECK(totals(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "=9..11"}}) == Totals{10, 10});
    // What lies below the low end settles nothing: somebody is wrong, or some died.
    check_fault(k3(), {{"2026-04-08", "=8..16"}, {"2026-04-09", "+2"}, {"2026-04-10", "=9"}},
                Fault::total_falls, 2);
  }

  TEST_CASE("only seedlings known says nothing of units") {
    CHECK(
        totals(k3(), {{"2026-04-08", "=5/9"}, {"2026-04-09", "=?/12"}, {"2026-04-10", "=6/13"}}) ==
        Totals{5, 5, 6});
    check_fault(k3(), {{"2026-04-08", "=5/9"}, {"2026-04-09", "=?/8"}}, Fault::seedlings_fall, 1);
    check_fault(k3(), {{"2026-04-08", "=5/9"}, {"2026-04-09", "+2"}, {"2026-04-10", "+1/8"}},
                Fault::seedlings_fall, 2);
    check_fault(k3(), {{"2026-04-08", "=9/5"}}, Fault::seedlings_below_units, 0);
    check_fault(k3(), {{"2026-04-08", "=9"}, {"2026-04-09", "=?/8"}}, Fault::seedlings_below_units,
                1);
    Sowing cells = k3();
    cells.unit = UnitKind::cell;
    cells.seeds_per_cell = 2;
    CHECK(totals(cells, {{"2026-04-08", "=20/40"}}) == Totals{20});
    check_fault(cells, {{"2026-04-08", "=20/41"}}, Fault::seedlings_over_seeds, 0);
  }

  TEST_CASE("a total never falls") {
    check_fault(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=12"}}, Fault::total_falls, 1);
    check_fault(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=12-1"}}, Fault::total_falls, 1);
    CHECK(totals(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=14"}}) == Totals{14, 14});
  }

  TEST_CASE("more are not lost than stood") {
    check_fault(k3(), {{"2026-04-10", "=2"}, {"2026-04-14", "=5-3"}}, Fault::standing_rises, 1);
    check_fault(k3(), {{"2026-04-10", "=5-1"}}, Fault::standing_rises, 0);
    check_fault(k3(), {{"2026-04-10", "=5"}, {"2026-04-11", "=2-3"}, {"2026-04-12", "=0-3"}},
                Fault::standing_rises, 2);
    CHECK(totals(k3(), {{"2026-04-10", "=5"}, {"2026-04-11", "=0-5"}}) == Totals{5, 5});
  }

  TEST_CASE("what came up and was lost between two looks is taken where it is said") {
    auto all = counts({{"2026-04-10", "=2"}, {"2026-04-14", "=1-3"}});
    REQUIRE_FALSE(derive(k3(), all).has_value());
    CHECK(all[1].total == 4);
    CHECK(standing_at(all, 1) == 1);
    CHECK(more_lost_than_stood({}, all, 1, 0).has_value());
    CHECK_FALSE(more_lost_than_stood({}, all, 1, 1).has_value());
    // A look that was so before is left alone; one that becomes so by another's change is not.
    CHECK_FALSE(more_lost_than_stood(all, all, 0, 0).has_value());
    auto before = counts({{"2026-04-10", "=3"}, {"2026-04-14", "=1-3"}});
    REQUIRE_FALSE(derive(k3(), before).has_value());
    const auto trouble = more_lost_than_stood(before, all, 0, 0);
    REQUIRE(trouble.has_value());
    CHECK(trouble->index == 1);
  }

  TEST_CASE("after a loss a number alone is what the course lets it be") {
    const auto after = [](const char* now) {
      return taken_as(k3(), {{"2026-04-08", "=14"}, {"2026-04-10", "=11-3"}, {"2026-04-14", now}},
                      2);
    };
    CHECK(after("=10") == "=10");  // below what stood: refused as a total that falls
    CHECK(after("=11") == "=11-0");
    CHECK(after("=13") == "=13-0");
    CHECK(after("=14") == "?");
    CHECK(after("=17") == "?");
    CHECK(after("=18") == "=18");  // 18 standing and 3 lost would be more than the 20 sown
    CHECK(after("=20") == "=20");
    CHECK(after("=21") == "=21");
    // Without a loss before it, and where sprouts are taken out, it is never anything else.
    CHECK(taken_as(k3(), {{"2026-04-08", "=14"}, {"2026-04-14", "=12"}}, 1) == "=12");
    CHECK(taken_as(k3(), {{"2026-04-08", "=14"}, {"2026-04-10", "=14"}, {"2026-04-14", "=11-3"}},
                   1) == "=14");
    // A later look decides: 16 in all cannot have become 14 in all.
    CHECK(taken_as(k3(),
                   {{"2026-04-08", "=14"},
                    {"2026-04-10", "=11-3"},
                    {"2026-04-12", "=14"},
                    {"2026-04-14", "=14"}},
                   2) == "=14");
  }

  TEST_CASE("more are not up than sown, where that is known") {
    check_fault(k3(), {{"2026-04-10", "=21"}}, Fault::more_than_sown, 0);
    check_fault(k3(), {{"2026-04-10", "=18"}, {"2026-04-11", "+3"}}, Fault::more_than_sown, 1);
    check_fault(k3(), {{"2026-04-10", "=18"}, {"2026-04-11", "=18-3"}}, Fault::more_than_sown, 1);
    CHECK(totals(k3(), {{"2026-04-10", "=20"}}) == Totals{20});
    Sowing row = k3();
    row.units.reset();
    row.units_known = UnitsKnown::unknown;
    CHECK(totals(row, {{"2026-04-10", "=2000"}}) == Totals{2000});
    check_fault(row, {{"2026-04-10", "=1000000000"}, {"2026-04-11", "+1"}}, Fault::more_than_sown,
                1);
  }

  TEST_CASE("no count before the sowing, nothing up on its day, none after its ending") {
    check_fault(k3(), {{"2026-04-02", "=0"}}, Fault::before_sowing, 0);
    CHECK(totals(k3(), {{"2026-04-03", "=0"}}) == Totals{0});
    CHECK(totals(k3(), {{"2026-04-03T06:00", "=same"}}) == Totals{0});
    check_fault(k3(), {{"2026-04-03", "=1"}}, Fault::up_at_sowing, 0);
    check_fault(k3(), {{"2026-04-03", "=0..1"}}, Fault::up_at_sowing, 0);
    check_fault(k3(), {{"2026-04-03", "=?/1"}}, Fault::up_at_sowing, 0);
    Sowing timed = k3();
    timed.sown = *parse_moment("2026-04-03T14:00");
    check_fault(timed, {{"2026-04-03T13:59", "=0"}}, Fault::before_sowing, 0);
    CHECK(totals(timed, {{"2026-04-03", "=0"}, {"2026-04-03T15:00", "=0"}}) == Totals{0, 0});
    check_fault(timed, {{"2026-04-03T20:00", "+1"}}, Fault::up_at_sowing, 0);
    Sowing ended = k3();
    ended.ending = Ending{EndingKind::finished, *parse_moment("2026-04-20"), {}};
    CHECK(totals(ended, {{"2026-04-20T23:00", "=4"}}) == Totals{4});
    check_fault(ended, {{"2026-04-21", "=4"}}, Fault::after_ending, 0);
    ended.ending->at = *parse_moment("2026-04-20T09:00");
    check_fault(ended, {{"2026-04-20T09:01", "=4"}}, Fault::after_ending, 0);
    CHECK(totals(ended, {{"2026-04-20", "=4"}}) == Totals{4});
  }

  TEST_CASE("where sprouts are taken out only new ones count") {
    Sowing towel = k3();
    towel.setting = Setting::towel;
    towel.taken_out = true;
    CHECK(totals(towel, {{"2026-04-08", "+3"}, {"2026-04-09", "=same"}, {"2026-04-10", "+2..4"}}) ==
          Totals{3, 3, 6});
    check_fault(towel, {{"2026-04-08", "+3"}, {"2026-04-09", "=3"}}, Fault::total_where_taken_out,
                1);
    check_fault(towel, {{"2026-04-08", "=3-0"}}, Fault::total_where_taken_out, 0);
  }

  TEST_CASE("absurd figures are refused whoever makes them") {
    const auto one = [](Entered entered) {
      std::vector<Count> all = {Count{*parse_moment("2026-04-10"), entered, "", 0}};
      Sowing row = k3();
      row.units.reset();
      row.units_known = UnitsKnown::unknown;
      const auto trouble = derive(row, all);
      return trouble.has_value() && trouble->fault == Fault::absurd_number;
    };
    CHECK(one({CountKind::total, -1, {}, 0, {}}));
    CHECK(one({CountKind::total, 1'000'000'001, {}, 0, {}}));
    CHECK(one({CountKind::total, 5, 5, 0, {}}));
    CHECK(one({CountKind::total, 5, 4, 0, {}}));
    CHECK(one({CountKind::total, 5, 2'000'000'000, 0, {}}));
    CHECK(one({CountKind::total, 5, {}, 1, {}}));
    CHECK(one({CountKind::standing, 5, {}, -1, {}}));
    CHECK(one({CountKind::standing, 5, 7, 0, {}}));
    CHECK(one({CountKind::seedlings, 0, {}, 0, {}}));
    CHECK(one({CountKind::seedlings, 3, {}, 0, 4}));
    CHECK(one({CountKind::total, 3, {}, 0, -4}));
    CHECK_FALSE(one({CountKind::total, 5, 7, 0, 9}));
  }

  TEST_CASE("an empty course is in order") {
    std::vector<Count> none;
    CHECK_FALSE(derive(k3(), none).has_value());
  }
}
