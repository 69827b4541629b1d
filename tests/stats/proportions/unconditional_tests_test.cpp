// Barnard and Boschloo against the plainest possible way: every table, a fine grid of the nuisance
// proportion. The tables of an independent program are in twoprop_reference_test.cpp.
#include "stats/proportions/unconditional_tests.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

double binomial(int n, int k, double p) {
  double c = 1;
  for (int i = 1; i <= k; ++i) c = c * (n + 1 - i) / i;
  return c * std::pow(p, k) * std::pow(1 - p, n - k);
}

// Largest over a grid of 1001 proportions of the probability of the tables that are `extreme`.
template <class Extreme>
double on_grid(int n1, int n2, Extreme&& extreme) {
  std::vector<std::pair<int, int>> tables;
  for (int a = 0; a <= n1; ++a)
    for (int b = 0; b <= n2; ++b)
      if (extreme(a, b)) tables.emplace_back(a, b);
  double best = 0;
  for (int i = 0; i <= 1000; ++i) {
    const double p = i / 1000.0;
    double sum = 0;
    for (const auto& [a, b] : tables) sum += binomial(n1, a, p) * binomial(n2, b, p);
    best = std::max(best, sum);
  }
  return best;
}

double z_of(int a, int n1, int b, int n2) {
  const double p = static_cast<double>(a + b) / (n1 + n2);
  if (p == 0 || p == 1) return 0;
  return (static_cast<double>(a) / n1 - static_cast<double>(b) / n2) /
         std::sqrt(p * (1 - p) * (1.0 / n1 + 1.0 / n2));
}

void check_near_grid(const ExactTest& got, double grid) {
  CHECK(got.status == ExactStatus::ok);
  CHECK(got.p >= grid - 1e-10);
  CHECK(got.p <= grid + 8e-6);  // the grid is blunt: it misses a top by at most about this
}

}  // namespace

TEST_CASE("Barnard's p is the largest over a grid, every table of 4 and 5") {
  for (const auto side : {Alternative::two_sided, Alternative::less, Alternative::greater}) {
    for (int x1 = 0; x1 <= 4; ++x1) {
      for (int x2 = 0; x2 <= 5; ++x2) {
        const double seen = z_of(x1, 4, x2, 5);
        check_near_grid(barnard({x1, 4, x2, 5}, side), on_grid(4, 5, [&](int a, int b) {
                          const double z = z_of(a, 4, b, 5);
                          if (side == Alternative::less) return z <= seen + 1e-9;
                          if (side == Alternative::greater) return z >= seen - 1e-9;
                          return std::fabs(z) >= std::fabs(seen) - 1e-9;
                        }));
      }
    }
  }
}

TEST_CASE("Boschloo's p is the largest over a grid, every table of 5 and 4") {
  for (const auto side : {Alternative::two_sided, Alternative::less, Alternative::greater}) {
    for (int x1 = 0; x1 <= 5; ++x1) {
      for (int x2 = 0; x2 <= 4; ++x2) {
        const double seen = fisher({x1, 5, x2, 4}, side);
        check_near_grid(boschloo({x1, 5, x2, 4}, side), on_grid(5, 4, [&](int a, int b) {
                          return fisher({a, 5, b, 4}, side) <= seen * (1 + 1e-9);
                        }));
      }
    }
  }
}

TEST_CASE("ties count: nine of ten against three of ten") {
  // With ties 0.0079556; a program that misses them by rounding says 0.00693 (reference tables).
  CHECK_WITHIN(barnard({9, 10, 3, 10}).p, 0.0079556, 0.5e-7);
}

TEST_CASE("Boschloo by the Fisher ordering is never above Fisher's p, and labels exchange") {
  for (int x1 = 0; x1 <= 12; ++x1) {
    for (int x2 = 0; x2 <= 9; ++x2) {
      const TwoByTwo t(x1, 12, x2, 9), failures(12 - x1, 12, 9 - x2, 9);
      const double p = boschloo(t).p;
      CHECK(p <= fisher(t) + 1e-12);
      CHECK_WITHIN(p, boschloo(t.swapped()).p, 1e-11);
      CHECK_WITHIN(p, boschloo(failures).p, 1e-11);
      CHECK_WITHIN(barnard(t).p, barnard(t.swapped()).p, 1e-11);
      CHECK_WITHIN(barnard(t).p, barnard(failures).p, 1e-11);
      CHECK_WITHIN(barnard(t, Alternative::less).p, barnard(t.swapped(), Alternative::greater).p,
                   1e-11);
    }
  }
}

TEST_CASE("nothing up, everything up and an empty group give 1") {
  for (const TwoByTwo& t :
       {TwoByTwo(0, 10, 0, 12), TwoByTwo(10, 10, 12, 12), TwoByTwo(0, 0, 3, 7)}) {
    CHECK(barnard(t).p == 1);
    CHECK(boschloo(t).p == doctest::Approx(1).epsilon(1e-12).scale(0));
  }
}

TEST_CASE("tables too large are told, not tried") {
  const TwoByTwo huge(500, 2000, 600, 2000);
  CHECK(barnard(huge).status == ExactStatus::too_large);
  CHECK(boschloo(huge).status == ExactStatus::too_large);
  CHECK(std::isnan(boschloo(huge).p));
  CHECK(barnard({4, 9, 45000, 90000}).status == ExactStatus::too_large);
  CHECK(barnard({450, 900, 480, 900}).status == ExactStatus::ok);
  CHECK_THROWS_AS(barnard({0.5, 2, 1, 2}), std::domain_error);
}
