// Student's t: two classic data sets with their known answers, and edges.
#include "stats/inference/t_test.hpp"

#include <limits>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// Student 1908, Biometrika 6:1-25: hours of sleep gained under two drugs.
const std::vector<double> first{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
const std::vector<double> second{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};

}  // namespace

TEST_CASE("Student's sleep data") {
  // As R prints them for its data set `sleep` (from memory).
  const TTest welch = welch_t(first, second);
  CHECK_WITHIN(welch.t, -1.8608, 0.5e-4);
  CHECK_WITHIN(welch.df, 17.776, 0.5e-3);
  CHECK_WITHIN(welch.p, 0.07939, 0.5e-5);
  CHECK_WITHIN(welch.interval.lower, -3.3654832, 0.5e-7);
  CHECK_WITHIN(welch.interval.upper, 0.2054832, 0.5e-7);
  const TTest pooled = pooled_t(first, second);
  CHECK_WITHIN(pooled.p, 0.07919, 0.5e-5);
  CHECK_WITHIN(pooled.interval.lower, -3.363874, 0.5e-6);
  CHECK_WITHIN(pooled.interval.upper, 0.203874, 0.5e-6);
  CHECK(pooled.df == 18);
  CHECK(pooled.interval.method == "student-t");
  std::vector<double> pairs;
  for (std::size_t i = 0; i < first.size(); ++i) pairs.push_back(first[i] - second[i]);
  const TTest one = one_mean_t(pairs);
  CHECK_WITHIN(one.t, -4.0621, 0.5e-4);
  CHECK_WITHIN(one.p, 0.002833, 0.5e-6);
}

TEST_CASE("labels swap the sign, and shifting the values moves nothing") {
  const TTest one = pooled_t(first, second), two = pooled_t(second, first);
  CHECK_CLOSE(one.difference, -two.difference, 1e-13);
  CHECK_CLOSE(one.interval.lower, -two.interval.upper, 1e-12);
  CHECK_CLOSE(one.p, two.p, 1e-12);
  std::vector<double> a = first, b = second;
  for (double& v : a) v += 1e6;
  for (double& v : b) v += 1e6;
  CHECK_CLOSE(welch_t(a, b).p, welch_t(first, second).p, 1e-7);
}

TEST_CASE("too few values or no variance: no p") {
  const std::vector<double> none, single{0.5}, flat{0.3, 0.3, 0.3}, other{0.9, 0.9};
  CHECK(pooled_t(none, flat).status == TStatus::too_few);
  CHECK(pooled_t(single, single).status == TStatus::too_few);
  CHECK(welch_t(single, flat).status == TStatus::too_few);
  CHECK(one_mean_t(single).status == TStatus::too_few);
  CHECK(pooled_t(single, first).status == TStatus::ok);
  CHECK(pooled_t(flat, other).status == TStatus::no_variance);
  CHECK_CLOSE(pooled_t(flat, other).difference, -0.6, 1e-14);
  CHECK(welch_t(flat, other).status == TStatus::no_variance);
  CHECK(one_mean_t(flat).status == TStatus::no_variance);
  CHECK(welch_t(flat, first).status == TStatus::ok);
  // 0.1 + 0.2 beside 0.3: rounding is not variance
  CHECK(pooled_t(std::vector<double>{0.1 + 0.2, 0.3}, std::vector<double>{0.7, 0.7}).status ==
        TStatus::no_variance);
  CHECK_THROWS_AS(pooled_t(first, std::vector<double>{std::numeric_limits<double>::infinity()}),
                  std::domain_error);
  CHECK_THROWS_AS(pooled_t(first, second, 0), std::domain_error);
}

TEST_CASE("within strata it is the treatment of a two-way linear model") {
  // R 4.2.2, lm(value ~ stratum + treatment), its coefficient `treatment`, run for this test.
  const std::vector<StratumValue> treated{{.90, 1}, {.88, 1}, {.86, 1}, {.40, 2}, {.44, 2}};
  const std::vector<StratumValue> control{{.84, 1}, {.45, 2}, {.41, 2},
                                          {.37, 2}, {.43, 2}, {.61, 3}};
  const TTest t = t_within_strata(treated, control);
  CHECK_WITHIN(t.difference, 0.0176, 1e-14);
  CHECK_WITHIN(t.se, 0.01974928570136874, 1e-15);
  CHECK_WITHIN(t.t, 0.8911714715221462, 1e-12);
  CHECK_WITHIN(t.p, 0.4024282702109657, 1e-12);
  CHECK(t.df == 7);
  CHECK_WITHIN(t.interval.lower, -0.0290996399210911, 1e-13);
  CHECK_WITHIN(t.interval.upper, 0.0642996399210912, 1e-13);
  CHECK(spread_unevenly(treated, control));
}

TEST_CASE("one stratum is the pooled t, and strata without both sides tell nothing") {
  std::vector<StratumValue> a, b;
  for (const double v : first) a.push_back({v, 7});
  for (const double v : second) b.push_back({v, 7});
  CHECK_CLOSE(t_within_strata(a, b).p, pooled_t(first, second).p, 1e-12);
  CHECK(t_within_strata(a, b).df == 18);
  CHECK_FALSE(spread_unevenly(a, b));
  for (auto& v : b) v.stratum = 8;
  CHECK(t_within_strata(a, b).status == TStatus::too_few);
  CHECK(spread_unevenly(a, b));
  const std::vector<StratumValue> one{{.5, 1}, {.5, 2}}, other{{.4, 1}, {.4, 2}};
  CHECK(t_within_strata(one, other).status == TStatus::no_variance);
  CHECK_WITHIN(t_within_strata(one, other).difference, 0.1, 1e-15);
}
