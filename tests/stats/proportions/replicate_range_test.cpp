// The tolerated range: the published table row by row, the computed rule against exact sums of an
// independent program and against plain enumeration.
#include "stats/proportions/replicate_range.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

TEST_CASE("the table of 7 CFR 201.55, both sides and both numbers of replicates") {
  int checked = 0;
  for (const Row& row : read_csv("reference/regulations/replicate_range_cfr.csv")) {
    for (const char* side : {"mean_percent_high", "mean_percent_low"}) {
      const double mean = number(row, side) / 100;
      const ToleratedRange four = tolerated_range(4, 100, mean);
      CHECK(four.source == RangeSource::table);
      CHECK(four.percent == number(row, "max_range_4_replicates_of_100"));
      // Rounded to a whole percent first: a quarter of a seed either way is the same mean.
      CHECK(tolerated_range(4, 100, mean - 0.005).percent == four.percent);
      CHECK(tolerated_range(4, 100, mean + 0.0025).percent == four.percent);
      ++checked;
      if (row.at("max_range_2_replicates_of_100").empty()) {
        CHECK(tolerated_range(2, 100, mean).source == RangeSource::exact);
        continue;
      }
      CHECK(tolerated_range(2, 100, mean).percent == number(row, "max_range_2_replicates_of_100"));
      ++checked;
    }
  }
  CHECK(checked == 2 * 49 + 2 * 47);
}

TEST_CASE("the computed rule for small replicates, every row") {
  int checked = 0;
  for (const Row& row : read_csv("reference/regulations/computed_replicate_range_small.csv")) {
    const int m = static_cast<int>(number(row, "replicates"));
    const ToleratedRange r =
        computed_range(m, number(row, "seeds_per_replicate"), number(row, "mean_percent") / 100);
    CHECK(r.seeds == number(row, "max_range_seeds_2.5pct"));
    CHECK_WITHIN(r.exceed, number(row, "prob_exceed"), 0.500001e-4);
    CHECK(r.source == RangeSource::exact);
    ++checked;
  }
  CHECK(checked >= 200);
}

TEST_CASE("the computed rule for four hundreds beside the table") {
  // Columns computed in long double by another program; they differ from the table in 11 of 49
  // means, which is why the table is kept as data.
  int checked = 0, differ = 0;
  for (const Row& row : read_csv("reference/statistics/ista_replicate_range.csv")) {
    const double mean = number(row, "mean_percent_high") / 100;
    const ToleratedRange r = computed_range(4, 100, mean);
    CHECK(r.seeds == number(row, "smallest_T_exact_binomial_2.5pct"));
    const ToleratedRange table = tolerated_range(4, 100, mean);
    CHECK_WITHIN(table.exceed, number(row, "exact_prob_range_exceeds_table_value"), 0.500001e-4);
    differ += table.seeds == r.seeds ? 0 : 1;
    ++checked;
  }
  CHECK(checked == 49);
  CHECK(differ == 11);
}

TEST_CASE("the probability of a range by plain enumeration of three trays") {
  const auto binomial = [](int n, int k, double p) {
    double c = 1;
    for (int i = 1; i <= k; ++i) c = c * (n + 1 - i) / i;
    return c * std::pow(p, k) * std::pow(1 - p, n - k);
  };
  for (const double p : {0.05, 0.5, 0.83}) {
    for (int t = 0; t < 6; ++t) {
      double far = 0;
      for (int a = 0; a <= 6; ++a)
        for (int b = 0; b <= 6; ++b)
          for (int c = 0; c <= 6; ++c)
            if (std::max({a, b, c}) - std::min({a, b, c}) > t)
              far += binomial(6, a, p) * binomial(6, b, p) * binomial(6, c, p);
      CHECK_WITHIN(range_exceeds(3, 6, p, t), far, 1e-13);
    }
  }
}

TEST_CASE("large replicates go by the studentized range") {
  // q(0.975; 4, infinite) = 3.984015, q(0.975; 2) = 3.169822 by R's qtukey: whole seeds here.
  const double n = 1e12;
  CHECK_CLOSE(computed_range(4, n, 0.5).seeds, 3.984015 * std::sqrt(n / 4), 2e-6);
  CHECK_CLOSE(computed_range(2, n, 0.5).seeds, 3.169822 * std::sqrt(n / 4), 2e-6);
  CHECK(computed_range(4, n, 0.5).source == RangeSource::normal);
  CHECK(std::isnan(computed_range(4, n, 0.5).exceed));
  CHECK(computed_range(4, n, 0.0).seeds == 0);
  // Where both apply they agree within a seed and a half.
  CHECK_WITHIN(computed_range(4, 20000, 0.5).seeds, 3.984015 * std::sqrt(20000 / 4.0), 1.5);
}

TEST_CASE("a set of trays is held against what is tolerated") {
  const RangeCheck fine =
      check_range(std::vector<Tally>{{90, 100}, {80, 100}, {86, 100}, {84, 100}});
  CHECK(fine.status == RangeStatus::ok);
  CHECK(fine.range_seeds == 10);
  CHECK(fine.tolerated.percent == 14);  // mean 85
  CHECK(fine.within);
  const RangeCheck just =
      check_range(std::vector<Tally>{{92, 100}, {78, 100}, {85, 100}, {85, 100}});
  CHECK(just.range_seeds == 14);
  CHECK(just.within);  // equal is still accepted (201.55)
  CHECK_FALSE(check_range(std::vector<Tally>{{93, 100}, {78, 100}, {85, 100}, {84, 100}}).within);
  // 25 seeds: 20 points are 5 seeds
  const RangeCheck small = check_range(std::vector<Tally>{{20, 25}, {25, 25}});
  CHECK(small.range_percent == 20);
  CHECK(small.tolerated.source == RangeSource::exact);
  CHECK(check_range(std::vector<Tally>{{20, 25}}).status == RangeStatus::too_few);
  CHECK(check_range(std::vector<Tally>{{20, 25}, {20, 30}}).status == RangeStatus::unequal_sizes);
  CHECK(check_range(std::vector<Tally>{{0, 25}, {0, 25}}).within);
}

TEST_CASE("what has no range is refused") {
  CHECK_THROWS_AS(tolerated_range(1, 100, 0.5), std::domain_error);
  CHECK_THROWS_AS(tolerated_range(4, 0, 0.5), std::domain_error);
  CHECK_THROWS_AS(tolerated_range(4, 10.5, 0.5), std::domain_error);
  CHECK_THROWS_AS(tolerated_range(4, 100, 1.2), std::domain_error);
  CHECK_THROWS_AS(tolerated_range(4, 100, std::numeric_limits<double>::quiet_NaN()),
                  std::domain_error);
}
