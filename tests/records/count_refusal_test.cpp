// Refusing a count: the facts, which name no command, and as data what may have been meant.
#include <doctest/doctest.h>

#include "records/course.hpp"
#include "records/course_building.hpp"

using namespace plumule::records;
using plumule::tests::counts;
using plumule::tests::k3;
using Looks = std::initializer_list<std::pair<const char*, const char*>>;

namespace {

Refusal refusal(const Sowing& sowing, Looks looks, Figures figures = Figures::shown) {
  auto all = counts(looks);
  const auto trouble = plumule::tests::trouble_of(sowing, all);
  REQUIRE(trouble.has_value());
  return explain(sowing, all, *trouble, all.size() - 1, std::nullopt, figures);
}

}  // namespace

TEST_SUITE("refusing a count") {
  TEST_CASE("fewer than stood: how many died, or which look was wrong") {
    const Refusal falls = refusal(k3(), {{"2026-04-10", "=14"}, {"2026-04-14", "=12"}});
    CHECK(falls.fact == "K3: 14 stood on Friday, 12 now.");
    REQUIRE(falls.hints.size() == 2);
    CHECK(falls.hints[0].advice == Advice::some_died);
    CHECK(falls.hints[0].name == "K3");
    CHECK(falls.hints[0].figure == Entered{CountKind::standing, 12, {}, 2, {}});
    CHECK(falls.hints[1].advice == Advice::amend_look);
    CHECK(falls.hints[1].at == *parse_moment("2026-04-10"));
    CHECK(falls.hints[1].said == "Friday");
    CHECK(falls.hints[1].figure->kind == CountKind::total);
  }

  TEST_CASE("none died where the figure is that of those that stand") {
    const Refusal falls =
        refusal(k3(), {{"2026-04-10", "=14"}, {"2026-04-12", "=12-2"}, {"2026-04-14", "=12"}});
    REQUIRE(falls.hints.size() == 2);
    CHECK(falls.hints[0].advice == Advice::none_died);
    CHECK(falls.hints[0].figure == Entered{CountKind::standing, 12, {}, 0, {}});
  }

  TEST_CASE("more than sown: the number that would do") {
    const Refusal more = refusal(k3(), {{"2026-04-10", "=22"}});
    CHECK(more.fact == "K3: 20 sown, 22 up now.");
    REQUIRE(more.hints.size() == 2);
    CHECK(more.hints[0].advice == Advice::count_again);
    CHECK(more.hints[1].advice == Advice::more_sown);
    CHECK(more.hints[1].said == "seeds");
    CHECK(more.hints[1].number == 22);
  }

  TEST_CASE("where sprouts are taken out only new ones are asked for") {
    Sowing towel = k3();
    towel.taken_out = true;
    const Refusal total = refusal(towel, {{"2026-04-10", "+4"}, {"2026-04-14", "=9"}});
    REQUIRE(total.hints.size() == 2);
    CHECK(total.hints[0].advice == Advice::in_all);
    CHECK(total.hints[0].figure == Entered{CountKind::newly, 5, {}, 0, {}});
    CHECK(total.hints[1].advice == Advice::newly_up);
    CHECK(total.hints[1].figure == Entered{CountKind::newly, 9, {}, 0, {}});
  }

  TEST_CASE("in a blind trial no hint carries an earlier figure") {
    const Refusal falls =
        refusal(k3(), {{"2026-04-10", "=17"}, {"2026-04-14", "=2"}}, Figures::hidden);
    CHECK(falls.fact == "K3: 2 now is below what stood before.");
    REQUIRE(falls.hints.size() == 2);
    CHECK(falls.hints[0].advice == Advice::say_how_many_died_since);
    CHECK(falls.hints[0].figure == Entered{CountKind::total, 2, {}, 0, {}});
    CHECK(falls.hints[1].advice == Advice::amend_earlier_look);
    CHECK_FALSE(falls.hints[1].at.has_value());
  }
}
