// Student's t: two classic data sets with their known answers, and edges.
#include "stats/t_test.hpp"

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
