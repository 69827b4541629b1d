// Probabilities of counts against exact arithmetic and large-number limits.
#include "stats/numeric/count_probability.hpp"

#include <cmath>
#include <numbers>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

long double choose(int n, int k) {
  if (k < 0 || k > n) return 0;
  long double c = 1;
  for (int i = 1; i <= k; ++i) c = c * (n + 1 - i) / i;
  return c;
}

}  // namespace

TEST_CASE("binomial probabilities by exact arithmetic") {
  for (const int n : {0, 1, 2, 15, 16, 17, 40})
    for (int x = 0; x <= n; ++x)
      for (const double p : {1e-9, 0.05, 0.5, 0.93})
        CHECK_CLOSE(binomial_probability(x, n, p),
                    static_cast<double>(choose(n, x) * std::pow(static_cast<long double>(p), x) *
                                        std::pow(1 - static_cast<long double>(p), n - x)),
                    1e-12);
  CHECK(binomial_probability(-1, 5, 0.5) == 0);
  CHECK(binomial_probability(6, 5, 0.5) == 0);
  CHECK(binomial_probability(0, 5, 0) == 1);
  CHECK(binomial_probability(5, 5, 1) == 1);
}

TEST_CASE("hypergeometric probabilities by exact arithmetic") {
  for (const int total : {1, 9, 30})
    for (int marked = 0; marked <= total; ++marked)
      for (int drawn = 0; drawn <= total; drawn += 3)
        for (int x = -1; x <= drawn + 1; ++x)
          CHECK_CLOSE(
              hypergeometric_probability(x, total, marked, drawn),
              static_cast<double>(x < 0 ? 0
                                        : choose(marked, x) * choose(total - marked, drawn - x) /
                                              choose(total, drawn)),
              1e-12);
}

TEST_CASE("large counts keep their digits") {
  // Middle of 1e9 at 1/2: sqrt(2 / (pi n)) (1 - 1/(4n)) (de Moivre, Stirling).
  CHECK_CLOSE(binomial_probability(5e8, 1e9, 0.5),
              std::sqrt(2 / (std::numbers::pi * 1e9)) * (1 - 1 / 4e9), 1e-13);
  // Neighbours stand in their exact ratio.
  const double a = hypergeometric_probability(300000, 2000000000, 600000000, 1000000);
  const double b = hypergeometric_probability(300001, 2000000000, 600000000, 1000000);
  CHECK_CLOSE(
      b / a,
      (600000000.0 - 300000) * (1000000.0 - 300000) / (300001.0 * (2e9 - 6e8 - 1e6 + 300001)),
      1e-9);
}
