// Differences in mean days and t50 between sowings.
#include "stats/times/speed_comparison.hpp"

#include <algorithm>
#include <stdexcept>
#include <vector>

#include "stats/times/public_courses.hpp"
#include "support/close.hpp"

using namespace plumule::stats;
using plumule::tests::group_courses;

namespace {

struct Expected {
  double difference, se, t, df, p, lower95, upper95, lower90, upper90;
};

void check_against(const SpeedDifference& d, const Expected& e) {
  REQUIRE(d.status == SpeedStatus::compared);
  CHECK_CLOSE(*d.difference, e.difference, 1e-9);
  CHECK_CLOSE(*d.se, e.se, 1e-9);
  CHECK_CLOSE(*d.t, e.t, 1e-9);
  CHECK_CLOSE(*d.df, e.df, 1e-9);
  CHECK_CLOSE(*d.p, e.p, 1e-9);
  CHECK_CLOSE(*d.lower, e.lower95, 1e-9);
  CHECK_CLOSE(*d.upper, e.upper95, 1e-9);
  CHECK_CLOSE(*d.lower90, e.lower90, 1e-9);
  CHECK_CLOSE(*d.upper90, e.upper90, 1e-9);
}

}  // namespace

TEST_CASE("differences of public dishes agree with thirty-digit arithmetic") {
  // mpmath 1.3, 30 digits, from tests/data: exact means and medians, incomplete beta for t
  const auto control = group_courses("eryngium", "GA3_0");
  const auto treated = group_courses("eryngium", "GA3_250");
  const SpeedDifference days = compare_mean_days(treated, control);
  check_against(days, {-0.6047619047619, 0.8023359108455, -0.7537515105421, 4, 0.49293762495,
                       -2.832403517153, 1.622879707629, -2.315219137852, 1.105695328328});
  CHECK_FALSE(days.welch);
  check_against(compare_t50(treated, control),
                {0.005555555555556, 1.556061425681, 0.003570267512494, 4, 0.9973223064765,
                 -4.314763573165, 4.325874684276, -3.31172899411, 3.322840105221});
  const auto s = group_courses("blackgrass", "T17_S_depth6");
  const auto r = group_courses("blackgrass", "T17_R_depth6");
  const SpeedDifference deep = compare_mean_days(s, r);  // seven against six: still pooled
  check_against(deep, {-53.10442176871, 28.50171108226, -1.863201181692, 11, 0.08933140050948,
                       -115.836264898, 9.627421360566, -104.2902120084, -1.918631528988});
  CHECK(deep.left_out == 1);
  CHECK(deep.left_out_against == 2);
  CHECK(deep.sowings == 7);
  CHECK(deep.against == 6);
  check_against(compare_t50(s, r),
                {-57.04761904762, 28.87208334108, -1.975874701305, 11, 0.07378767060103,
                 -120.5946460223, 6.49940792703, -108.8985552042, -5.196682891013});
}

TEST_CASE("an interval at the level asked for, beside the verdict's own") {
  const auto control = group_courses("eryngium", "GA3_0");
  const auto treated = group_courses("eryngium", "GA3_250");
  const SpeedDifference usual = compare_mean_days(treated, control);
  const SpeedDifference narrow = compare_mean_days(treated, control, 0.8);
  // mpmath as above gives the standard error; 1.533206 is the published t of 4 df at 80 %.
  CHECK_CLOSE(narrow.level, 0.8, 1e-15);
  CHECK_WITHIN(*narrow.upper, -0.6047619047619 + 1.533206 * 0.8023359108455, 1e-6);
  CHECK_WITHIN(*narrow.lower, -0.6047619047619 - 1.533206 * 0.8023359108455, 1e-6);
  CHECK_CLOSE(*narrow.lower90, *usual.lower90, 1e-15);
  CHECK_CLOSE(*narrow.p, *usual.p, 1e-15);
  CHECK_CLOSE(*compare_t50(treated, control, 0.9).lower, *compare_t50(treated, control).lower90,
              1e-15);
  CHECK_THROWS_AS(compare_mean_days(treated, control, 1), std::domain_error);
}

TEST_CASE("numbers of sowings that differ by more than one take Welch's t") {
  // mpmath as above
  const auto eight = group_courses("blackgrass", "T17_R_depth0");
  auto three = group_courses("blackgrass", "T17_S_depth0");
  three.resize(3);
  const SpeedDifference d = compare_mean_days(eight, three);
  CHECK(d.welch);
  check_against(d,
                {-1.818646370123, 11.99387934447, -0.1516312043743, 5.362978945482, 0.8850184766102,
                 -32.03270126, 28.39540851975, -25.63020319017, 21.99291044992});
}

TEST_CASE("a mean is of the middles of the intervals and a median lies inside one") {
  // By hand: 2 in (0, 4], 6 in (4, 6], 2 in (6, 10]: mean (2*2 + 6*5 + 2*8)/10, half at 4 + 2*3/6.
  const TimeCourse course{std::nullopt, {{4, 2}, {6, 8}, {10, 10}}, 0};
  CHECK_CLOSE(*mean_days_midway(course), 5, 1e-14);
  CHECK_CLOSE(*median_days(course), 5, 1e-14);
  const TimeCourse nothing{20.0, {{4, 0}}, 0};
  CHECK_FALSE(mean_days_midway(nothing).has_value());
  CHECK_FALSE(median_days(nothing).has_value());
}

TEST_CASE("too few sowings, none up, or all alike are said to be so") {
  const TimeCourse early{20.0, {{3, 4}, {5, 10}}, 0};
  const TimeCourse late{20.0, {{5, 4}, {8, 10}}, 0};
  const TimeCourse nothing{20.0, {{5, 0}}, 0};
  using Courses = std::vector<TimeCourse>;
  const SpeedDifference one = compare_mean_days(Courses{early}, Courses{late, late});
  CHECK(one.status == SpeedStatus::too_few);
  CHECK(one.difference.has_value());
  CHECK_FALSE(one.p.has_value());
  const SpeedDifference alike = compare_mean_days(Courses{early, early}, Courses{late, late});
  CHECK(alike.status == SpeedStatus::no_variance);
  CHECK(*alike.difference < 0);
  CHECK_FALSE(alike.lower.has_value());
  const SpeedDifference none = compare_mean_days(Courses{nothing}, Courses{late, late});
  CHECK(none.status == SpeedStatus::nothing_up);
  CHECK(none.left_out == 1);
  CHECK_FALSE(none.difference.has_value());
  CHECK(compare_mean_days(Courses{}, Courses{}).status == SpeedStatus::nothing_up);
  CHECK_THROWS_AS(compare_mean_days(Courses{{10.0, {{1, 11}}, 0}}, Courses{}), std::domain_error);
}

TEST_CASE("swapping treatments turns the sign, order is nothing, hours are days times 24") {
  auto a = group_courses("eryngium", "GA3_250");
  auto b = group_courses("eryngium", "GA3_0");
  const SpeedDifference d = compare_mean_days(a, b);
  const SpeedDifference swapped = compare_mean_days(b, a);
  CHECK_CLOSE(*swapped.difference, -*d.difference, 1e-13);
  CHECK_CLOSE(*swapped.p, *d.p, 1e-13);
  CHECK_CLOSE(*swapped.lower, -*d.upper, 1e-13);
  std::ranges::reverse(a);
  for (auto* group : {&a, &b})
    for (TimeCourse& course : *group)
      for (Look& look : course.looks) look.time *= 24;
  const SpeedDifference hours = compare_mean_days(a, b);
  CHECK_CLOSE(*hours.difference, 24 * *d.difference, 1e-12);
  CHECK_CLOSE(*hours.p, *d.p, 1e-12);
}
