// The facade over Boost.Math: known points and settled edges.
#include "stats/numeric/distributions.hpp"

#include <stdexcept>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("beta quantiles give the exact interval of 42 of 50") {
  // Clopper-Pearson by two independent tools (R binom.test and mpmath): 0.7088736934, 0.9282992328
  CHECK_CLOSE(beta_quantile(0.025, 42, 9), 0.7088736934, 1e-9);
  CHECK_CLOSE(beta_quantile_upper(0.025, 43, 8), 0.9282992328, 1e-9);
}

TEST_CASE("the far normal tail keeps its digits") {
  CHECK_CLOSE(normal_upper(10), 7.61985302416052606597e-24, 1e-12);  // Abramowitz & Stegun 26.2
}

TEST_CASE("edges of the distributions are settled") {
  CHECK(beta_lower(-0.1, 1, 1) == 0);
  CHECK(beta_lower(1.1, 1, 1) == 1);
  CHECK_THROWS_AS(beta_lower(0.5, 0, 1), std::domain_error);
}
