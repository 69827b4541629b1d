// Deriving interval-censored spans from looks, and refusing courses that cannot be.
#include "stats/times/time_course.hpp"

#include <cmath>
#include <stdexcept>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("a course gives its spans, the rest censored and the rotted at infinity") {
  // By hand: 20 sown, 3 up between days 2 and 4, 5 more between 4 and 6.5, two found rotted.
  const TimeCourse course{20.0, {{0, 0}, {2, 0}, {4, 3}, {6.5, 8}, {9, 8}}, 2};
  const auto spans = spans_of(course);
  REQUIRE(spans.size() == 4);
  CHECK((spans[0].left == 2 && spans[0].right == 4 && spans[0].count == 3));
  CHECK((spans[1].left == 4 && spans[1].right == 6.5 && spans[1].count == 5));
  CHECK((spans[2].left == 9 && std::isinf(spans[2].right) && spans[2].count == 10));
  CHECK((std::isinf(spans[3].left) && std::isinf(spans[3].right) && spans[3].count == 2));
  CHECK(separate_times(spans) == 2);
}

TEST_CASE("units unknown leave only those that came up, in the pool too") {
  const TimeCourse known{10.0, {{3, 4}}, 0};
  const TimeCourse unknown{std::nullopt, {{3, 5}, {5, 6}}, 0};
  CHECK(spans_of(unknown).size() == 2);
  const std::vector<TimeCourse> both{known, unknown};
  const Pool all = pool(both);
  CHECK_FALSE(all.all_known);
  CHECK(all.units == 10);
  CHECK(all.emerged == 10);
  CHECK(all.last_look == 5);
  REQUIRE(all.spans.size() == 2);
  CHECK(all.spans[0].count == 9);  // (0, 3] of both sowings
}

TEST_CASE("a sowing never looked at is censored at its sowing") {
  const std::vector<TimeCourse> one{{12.0, {}, 0}};
  const Pool all = pool(one);
  REQUIRE(all.spans.size() == 1);
  CHECK((all.spans[0].left == 0 && std::isinf(all.spans[0].right) && all.units == 12));
}

TEST_CASE("separate times are counted by the fewest points that hold every span") {
  // By hand: 4.5 holds the first three, 8 the last two; the open span needs no point.
  const std::vector<Span> spans{{3, 5, 1}, {4, 6, 1}, {4, 5, 2},
                                {7, 8, 1}, {6, 9, 1}, {9, no_end, 4}};
  CHECK(separate_times(spans) == 2);
  CHECK(separate_times(std::vector<Span>{{1, 2, 1}, {2, 3, 1}, {3, 4, 1}}) == 3);
  CHECK(separate_times(std::vector<Span>{{5, no_end, 3}}) == 0);
  CHECK(separate_times(std::vector<Span>{}) == 0);
}

TEST_CASE("courses that cannot be are refused") {
  const double nan = std::nan("");
  const std::vector<TimeCourse> bad{{10.0, {{2, 1}, {2, 2}}, 0},
                                    {10.0, {{3, 2}, {2, 3}}, 0},
                                    {10.0, {{2, 3}, {3, 2}}, 0},
                                    {10.0, {{2, 11}}, 0},
                                    {10.0, {{2, 6}}, 5},
                                    {10.0, {{0, 1}}, 0},
                                    {10.0, {{-1, 0}}, 0},
                                    {0.0, {}, 0},
                                    {nan, {}, 0},
                                    {10.0, {{nan, 1}}, 0},
                                    {10.0, {{1, nan}}, 0},
                                    {10.0, {}, -1},
                                    {no_end, {}, 0},
                                    {10.0, {{no_end, 1}}, 0},
                                    {10.0, {{1, -1}}, 0}};
  for (const TimeCourse& course : bad) CHECK_THROWS_AS(check(course), std::domain_error);
  CHECK_THROWS_AS(merged({{3, 3, 1}}), std::domain_error);
  CHECK_THROWS_AS(merged({{-1, 3, 1}}), std::domain_error);
  CHECK_THROWS_AS(merged({{1, 3, -1}}), std::domain_error);
  CHECK_THROWS_AS(merged({{nan, 3, 1}}), std::domain_error);
}
