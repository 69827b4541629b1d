// Stratified tables: a published example, properties and edges. Crowder's plates are in
// crowder_test.cpp, statsmodels' values in twoprop_reference_test.cpp.
#include "stats/proportions/stratified.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("smoking and lung cancer in men and women, Doll and Hill") {
  // Fagerland, Lydersen & Laake 2017, chapter 10, as printed by their R package contingencytables
  // (read in its test file).
  const std::vector<TwoByTwo> strata{{647, 1269, 2, 29}, {41, 69, 19, 51}};
  CHECK_WITHIN(cochran_mantel_haenszel(strata)->chi_squared, 24.920, 0.5e-3);
  const CommonOddsRatio common = mantel_haenszel_odds_ratio(strata);
  CHECK_WITHIN(common.estimate, 4.5239, 0.5e-4);
  // Its homogeneity test is Tarone's. Its interval is no check: the last term of its variance takes
  // the wrong cells; R's own mantelhaen.test and statsmodels are in the reference tables.
  CHECK_WITHIN(breslow_day(strata)->tarone.chi_squared, 5.175, 0.5e-3);
  CHECK_WITHIN(breslow_day(strata)->tarone.p, 0.02292, 0.5e-5);
}

TEST_CASE("one stratum is the plain odds ratio, and order and labels are nothing") {
  const std::vector<TwoByTwo> one{{15, 20, 9, 20}};
  CHECK_CLOSE(mantel_haenszel_odds_ratio(one).estimate, 15.0 * 11 / (5 * 9), 1e-14);
  // With one stratum the Robins-Breslow-Greenland variance is Woolf's (their paper, section 2).
  CHECK_CLOSE(*mantel_haenszel_odds_ratio(one).log_se,
              std::sqrt(1.0 / 15 + 1.0 / 5 + 1.0 / 9 + 1.0 / 11), 1e-13);
  CHECK_FALSE(breslow_day(one).has_value());
  std::vector<TwoByTwo> strata{{18, 20, 14, 20}, {16, 20, 15, 20}, {19, 20, 11, 20}};
  const CommonOddsRatio before = mantel_haenszel_odds_ratio(strata);
  const double bd = breslow_day(strata)->tarone.chi_squared;
  std::reverse(strata.begin(), strata.end());
  CHECK_CLOSE(mantel_haenszel_odds_ratio(strata).estimate, before.estimate, 1e-13);
  CHECK_CLOSE(breslow_day(strata)->tarone.chi_squared, bd, 1e-10);
  for (TwoByTwo& t : strata) t = t.swapped();
  CHECK_CLOSE(mantel_haenszel_odds_ratio(strata).estimate, 1 / before.estimate, 1e-13);
  CHECK_CLOSE(*mantel_haenszel_odds_ratio(strata).log_se, *before.log_se, 1e-13);
  CHECK_CLOSE(breslow_day(strata)->tarone.chi_squared, bd, 1e-9);
}

TEST_CASE("strata with nothing to tell are passed over") {
  const std::vector<TwoByTwo> empty{{0, 10, 0, 10}, {10, 10, 10, 10}, {0, 0, 5, 10}};
  CHECK_FALSE(cochran_mantel_haenszel(empty).has_value());
  CHECK(std::isnan(mantel_haenszel_odds_ratio(empty).estimate));
  CHECK_FALSE(mantel_haenszel_odds_ratio(empty).interval.has_value());
  const std::vector<TwoByTwo> one_way{{10, 10, 5, 10}, {8, 8, 8, 9}};
  CHECK(mantel_haenszel_odds_ratio(one_way).estimate == std::numeric_limits<double>::infinity());
  CHECK_FALSE(mantel_haenszel_odds_ratio(one_way).log_se.has_value());
  CHECK_FALSE(breslow_day(one_way).has_value());
  std::vector<TwoByTwo> some{{15, 20, 9, 20}, {12, 20, 8, 20}};
  const double alone = cochran_mantel_haenszel(some)->chi_squared;
  some.insert(some.end(), empty.begin(), empty.end());
  CHECK_CLOSE(cochran_mantel_haenszel(some)->chi_squared, alone, 1e-13);
  CHECK(breslow_day(some)->strata == 2);
}

TEST_CASE("the correction never turns the sign") {
  const std::vector<TwoByTwo> even{{5, 10, 5, 10}, {7, 14, 7, 14}};
  CHECK(cochran_mantel_haenszel(even, true)->chi_squared == 0);
  CHECK(cochran_mantel_haenszel(even, true)->p == 1);
}
