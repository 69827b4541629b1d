// One proportion: two independent tools' values, Newcombe's printed ones, and properties.
#include "stats/proportions/proportion.hpp"

#include <cstdint>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>

#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

TEST_CASE("intervals of one proportion agree with mpmath and R, every value") {
  int values = 0;
  for (const Row& row : read_csv("reference/statistics/interval_check_values.csv")) {
    const Tally tally(number(row, "x"), number(row, "n"));
    const std::string& name = row.at("method");
    Interval got;
    if (name == "wilson") got = wilson(tally);
    // The table has the plain posterior quantiles; the closed ends are checked below.
    else if (name == "jeffreys")
      got = jeffreys(tally, 0.95, Side::both, JeffreysEnds::plain);
    else if (name == "clopper-pearson")
      got = clopper_pearson(tally);
    else if (name == "cp-one-sided-lower-95")
      got = clopper_pearson(tally, 0.95, Side::lower);
    else
      FAIL("unknown method ", name);
    CHECK_CLOSE(got.lower, number(row, "lower"), 1e-11);
    CHECK_CLOSE(got.upper, number(row, "upper"), 1e-11);
    CHECK_CLOSE(got.lower, number(row, "lower_R"), 1e-11);
    CHECK_CLOSE(got.upper, number(row, "upper_R"), 1e-11);
    values += name == "cp-one-sided-lower-95" ? 1 : 2;
  }
  CHECK(values >= 840);
}

TEST_CASE("intervals of one proportion are those Newcombe printed in 1998") {
  // Columns of the table say where each printed value was seen; four decimals.
  int checked = 0;
  std::map<std::string, int> skipped;
  for (const Row& row : read_csv("reference/statistics/newcombe_published.csv")) {
    if (row.at("kind") != "single") continue;
    const Tally tally(number(row, "x1"), number(row, "n1"));
    Interval got;
    if (row.at("method") == "Wilson score")
      got = wilson(tally);
    else if (row.at("method") == "Wilson score, cc")
      got = wilson(tally, 0.95, Side::both, true);
    else if (row.at("method") == "Clopper-Pearson")
      got = clopper_pearson(tally);
    else {
      ++skipped[row.at("method")];  // asymptotic, mid-P and likelihood are not offered
      continue;
    }
    CHECK_WITHIN(got.lower, number(row, "published_lower"), 0.500001e-4);
    CHECK_WITHIN(got.upper, number(row, "published_upper"), 0.500001e-4);
    CHECK_WITHIN(got.lower, number(row, "computed_lower_R"), 0.51e-10);
    CHECK_WITHIN(got.upper, number(row, "computed_upper_R"), 0.51e-10);
    ++checked;
  }
  CHECK(checked == 12);
  CHECK(skipped.size() == 4);
}

TEST_CASE("nothing and everything up close their end") {
  // Brown, Cai & DasGupta 2001, section 3.1.3: Jeffreys at x = 0 from 0, at x = n to 1.
  const Interval none = jeffreys({0, 10}), all = jeffreys({10, 10});
  CHECK(none.lower == 0);
  CHECK_CLOSE(none.upper, 0.21719626750921057, 1e-12);  // the other end keeps its quantile
  CHECK(all.upper == 1);
  CHECK_CLOSE(all.lower, 1 - 0.21719626750921057, 1e-12);
  CHECK(wilson({0, 10}).lower == 0);
  CHECK(wilson({10, 10}).upper == 1);
  CHECK(clopper_pearson({0, 10}).lower == 0);
  CHECK(clopper_pearson({10, 10}).upper == 1);
  CHECK(wilson({0, 10}, 0.95, Side::both, true).lower == 0);
  CHECK(wilson({10, 10}, 0.95, Side::both, true).upper == 1);
}

TEST_CASE("no seed sown leaves 0 to 1") {
  for (const Interval& i : {wilson({0, 0}), clopper_pearson({0, 0}), jeffreys({0, 0})}) {
    CHECK(i.lower == 0);
    CHECK(i.upper == 1);
  }
}

namespace {

using Method = Interval (*)(Tally, double, Side);
const Method methods[] = {
    [](Tally t, double l, Side s) { return wilson(t, l, s); },
    [](Tally t, double l, Side s) { return wilson(t, l, s, true); },
    [](Tally t, double l, Side s) { return clopper_pearson(t, l, s); },
    [](Tally t, double l, Side s) { return jeffreys(t, l, s); },
    [](Tally t, double l, Side s) { return jeffreys(t, l, s, JeffreysEnds::plain); }};

}  // namespace

TEST_CASE("x of n and n - x of n mirror each other, and the interval holds x over n") {
  for (const Method interval : methods) {
    for (const double n : {1.0, 2.0, 7.0, 10.0, 50.0, 333.0, 1e6, 1e9}) {
      for (const double x : {0.0, 1.0, 2.0, n / 2, n - 1, n}) {
        if (x > n) continue;
        for (const double level : {0.8, 0.95, 0.999}) {
          const Interval here = interval({x, n}, level, Side::both);
          const Interval there = interval({n - x, n}, level, Side::both);
          CHECK_WITHIN(here.lower, 1 - there.upper, 1e-14);
          CHECK_WITHIN(here.upper, 1 - there.lower, 1e-14);
          // Plain Jeffreys may leave x/n out at 0 and n: that is what closing its ends is for.
          if (interval != methods[4]) {
            CHECK(here.lower <= x / n);
            CHECK(here.upper >= x / n);
          }
          CHECK(here.lower >= 0);
          CHECK(here.upper <= 1);
        }
      }
    }
  }
}

TEST_CASE("a one-sided limit is the end of the two-sided interval with twice the tail") {
  for (const Method interval : methods) {
    for (const double x : {0.0, 3.0, 10.0, 19.0, 20.0}) {
      const Interval both = interval({x, 20}, 0.9, Side::both);
      const Interval lower = interval({x, 20}, 0.95, Side::lower);
      const Interval upper = interval({x, 20}, 0.95, Side::upper);
      CHECK_WITHIN(lower.lower, both.lower, 1e-14);
      CHECK(lower.upper == 1);
      CHECK_WITHIN(upper.upper, both.upper, 1e-14);
      CHECK(upper.lower == 0);
    }
  }
}

TEST_CASE("one of a thousand million keeps its digits") {
  // Exact: 1 - (1 - a)^(1/n) and the Poisson limits 0.0253178080 and 5.5716434 (Garwood 1936) at
  // n = 1e9, where binomial and Poisson agree to 1e-8.
  const Interval exact = clopper_pearson({std::int64_t{1}, std::int64_t{1000000000}});
  CHECK_CLOSE(exact.lower * 1e9, 0.025317807984289897, 1e-8);
  CHECK_CLOSE(exact.upper * 1e9, 5.5716433909388965, 1e-8);
  // Wilson at n so large: (x + z^2/2 -+ z sqrt(x + z^2/4)) / n.
  const double z = 1.959963984540054, half = z * std::sqrt(1 + z * z / 4);
  const Interval score = wilson({1, 1e9});
  CHECK_CLOSE(score.lower * 1e9, 1 + z * z / 2 - half, 1e-8);
  CHECK_CLOSE(score.upper * 1e9, 1 + z * z / 2 + half, 1e-8);
}

TEST_CASE("the exact interval covers at least its level at every p") {
  // Its defining property (Clopper & Pearson 1934): at each limit the tail is just the one asked
  // for.
  for (int x = 1; x < 12; ++x) {
    const Interval i = clopper_pearson({x, 12}, 0.9);
    const auto tail = [&](double p, int from, int to) {
      double sum = 0, term = std::pow(1 - p, 12);
      for (int k = 0; k <= 12; ++k) {
        if (k >= from && k <= to) sum += term;
        term *= (12.0 - k) / (k + 1) * p / (1 - p);
      }
      return sum;
    };
    CHECK_CLOSE(tail(i.lower, x, 12), 0.05, 1e-12);
    CHECK_CLOSE(tail(i.upper, 0, x), 0.05, 1e-12);
  }
}
