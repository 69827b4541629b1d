// The interval after any number of batches: its deflation, its edges, its promise by exact sums.
#include "stats/trays/batch_sequence.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("one seed that failed leaves the upper end by hand") {
  // M = 0.5 / (1 - p) = 20 at alpha 0.05, a = b = 1: p = 0.975
  CHECK_CLOSE(mixture_sequence(0, 1, 1, 1, 0.05).upper, 0.975, 1e-12);
  CHECK(mixture_sequence(0, 1, 1, 1, 0.05).lower == 0);
  CHECK_CLOSE(mixture_sequence(1, 1, 1, 1, 0.05).lower, 0.025, 1e-12);
}

TEST_CASE("batches widen by the spread between them that the setting allows") {
  const std::vector<TrayCount> batches{{22, 25}, {19, 25}, {23, 25}};
  const auto ends = batch_sequence(batches, rho_from_beta(24));
  CHECK_CLOSE(ends.deflation, 1 + 24 * (1 - std::pow(0.1, 1.0 / 24)), 1e-12);
  const auto seeds = mixture_sequence(64, 75, 0.5, 0.5, 0.05);
  CHECK(ends.lower < seeds.lower);
  CHECK(ends.upper > seeds.upper);
  // at its ends the deflated log M is log 20
  CHECK_CLOSE(log_mixture_martingale(64, 75, 0.5, 0.5, ends.lower) / ends.deflation, std::log(20.0),
              1e-9);
  CHECK_CLOSE(log_mixture_martingale(64, 75, 0.5, 0.5, ends.upper) / ends.deflation, std::log(20.0),
              1e-9);
}

TEST_CASE("the mixture sequence ever excludes the truth in at most alpha of lots") {
  for (const double p : {0.05, 0.5, 0.8, 0.97})
    for (const double alpha : {0.05, 0.01}) {
      const double ever = probability_ever_excluded(p, alpha, 300, 0.5, 0.5);
      CHECK(ever <= alpha);
      CHECK(ever > 0);
    }
}

TEST_CASE("nothing tested leaves everything open, and what cannot be is refused") {
  const auto nothing = batch_sequence({}, rho_from_beta(24));
  CHECK(nothing.lower == 0);
  CHECK(nothing.upper == 1);
  CHECK_THROWS_AS(mixture_sequence(3, 2, 1, 1, 0.05), std::domain_error);
  CHECK_THROWS_AS(mixture_sequence(1, 2, 0, 1, 0.05), std::domain_error);
  CHECK_THROWS_AS(mixture_sequence(1, 2, 1, 1, 1), std::domain_error);
  CHECK_THROWS_AS(mixture_sequence(1, 2, 1, 1, 0.05, 0.5), std::domain_error);
  CHECK_THROWS_AS(log_mixture_martingale(1, 2, 1, 1, 1.5), std::domain_error);
  CHECK(std::isinf(log_mixture_martingale(1, 2, 1, 1, 0)));
}
