// Fisher's test and its mid-p: brute enumeration, published mid-p values, large tables. The tables
// of scipy and R are in twoprop_reference_test.cpp.
#include "stats/proportions/fisher.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

long double choose(int n, int k) {
  long double c = 1;
  for (int i = 1; i <= k; ++i) c = c * (n + 1 - i) / i;
  return std::round(c);
}

}  // namespace

TEST_CASE("Fisher's p is the sum over all tables with the same margins") {
  int checked = 0;
  for (int n1 = 0; n1 <= 8; ++n1) {
    for (int n2 = 0; n2 <= 7; ++n2) {
      for (int x1 = 0; x1 <= n1; ++x1) {
        for (int x2 = 0; x2 <= n2; ++x2) {
          const int up = x1 + x2;
          const long double all = choose(n1 + n2, up);
          const auto ways = [&](int k) {
            return k < 0 || k > n1 || up - k < 0 || up - k > n2
                       ? 0
                       : choose(n1, k) * choose(n2, up - k);
          };
          long double two = 0, less = 0, greater = 0, mid = 0;
          for (int k = 0; k <= n1; ++k) {
            if (ways(k) <= ways(x1)) two += ways(k);
            if (ways(k) < ways(x1)) mid += ways(k);
            if (ways(k) == ways(x1)) mid += ways(k) / 2;
            if (k <= x1) less += ways(k);
            if (k >= x1) greater += ways(k);
          }
          const TwoByTwo t(x1, n1, x2, n2);
          CHECK_CLOSE(fisher(t), static_cast<double>(two / all), 1e-12);
          CHECK_CLOSE(fisher(t, Alternative::less), static_cast<double>(less / all), 1e-12);
          CHECK_CLOSE(fisher(t, Alternative::greater), static_cast<double>(greater / all), 1e-12);
          CHECK_CLOSE(fisher_mid_p(t), static_cast<double>(mid / all), 1e-12);
          CHECK_CLOSE(fisher_mid_p(t, Alternative::less),
                      static_cast<double>((less - ways(x1) / 2) / all), 1e-12);
          ++checked;
        }
      }
    }
  }
  CHECK(checked > 1500);
}

TEST_CASE("mid-p is that of the published examples") {
  // Fagerland, Lydersen & Laake 2017, chapter 4, by their R package contingencytables (read in its
  // test file), five decimals.
  CHECK_WITHIN(fisher_mid_p({3, 4, 1, 4}), 0.25714, 0.6e-5);
  CHECK_WITHIN(fisher_mid_p({7, 34, 1, 34}), 0.02966, 0.6e-5);
  CHECK_WITHIN(fisher_mid_p({9, 13, 4, 14}), 0.03914, 0.6e-5);
  CHECK_WITHIN(fisher_mid_p({0, 16, 15, 72}), 0.04466, 0.6e-5);
  CHECK_WITHIN(fisher_mid_p({745, 748, 127, 129}), 0.09193139, 0.6e-8);
  CHECK_WITHIN(fisher({0, 16, 15, 72}), 0.06287, 0.6e-5);
}

TEST_CASE("labels and outcomes exchange without changing Fisher's p") {
  for (int x1 = 0; x1 <= 9; ++x1) {
    for (int x2 = 0; x2 <= 13; ++x2) {
      const TwoByTwo t(x1, 9, x2, 13), failures(9 - x1, 9, 13 - x2, 13);
      CHECK_CLOSE(fisher(t), fisher(t.swapped()), 1e-12);
      CHECK_CLOSE(fisher(t), fisher(failures), 1e-12);
      CHECK_CLOSE(fisher(t, Alternative::less), fisher(failures, Alternative::greater), 1e-12);
      CHECK(fisher_mid_p(t) < fisher(t));
    }
  }
}

TEST_CASE("a thousand million seeds: Fisher's mid-p tends to the normal one") {
  const TwoByTwo t(500030000, 1000000000, 500000000, 1000000000);
  const double z = 3e-5 / std::sqrt(0.5 / 1e9);
  CHECK_CLOSE(fisher_mid_p(t), 2 * normal_upper(z), 1e-4);
}

TEST_CASE("half a seed has no exact test") {
  CHECK_THROWS_AS(fisher({1.5, 4, 1, 4}), std::domain_error);
}
