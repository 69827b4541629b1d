// Heterogeneity of replicates: the exact p against full enumeration. Crowder's arms are in
// crowder_test.cpp.
#include "stats/proportions/replicates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

double choose(int n, int k) {
  if (k < 0 || k > n) return 0;
  double c = 1;
  for (int i = 1; i <= k; ++i) c = c * (n + 1 - i) / i;
  return c;
}

// P(chi-squared as far out) over all ways to place `up` among three trays.
double enumerated(const std::array<int, 3>& n, int up, double seen) {
  const int all = n[0] + n[1] + n[2];
  const double p = static_cast<double>(up) / all;
  double far = 0;
  for (int a = 0; a <= n[0]; ++a) {
    for (int b = 0; b <= n[1]; ++b) {
      const int c = up - a - b;
      if (c < 0 || c > n[2]) continue;
      double x2 = 0;
      const std::array<int, 3> counts{a, b, c};
      for (std::size_t i = 0; i < 3; ++i)
        x2 += std::pow(counts[i] - n[i] * p, 2) / (n[i] * p * (1 - p));
      if (x2 >= seen - 1e-9)
        far += choose(n[0], a) * choose(n[1], b) * choose(n[2], c) / choose(all, up);
    }
  }
  return far;
}

}  // namespace

TEST_CASE("the exact p of heterogeneity is that of every placing") {
  const std::vector<std::vector<Tally>> sets{
      {{9, 10}, {5, 10}, {10, 10}}, {{1, 12}, {0, 8}, {4, 20}}, {{20, 20}, {17, 20}, {15, 15}}};
  for (const auto& trays : sets) {
    const Heterogeneity h = *heterogeneity(trays);
    CHECK(h.method == HeterogeneityMethod::enumerated);
    int up = 0;
    std::array<int, 3> n{};
    for (std::size_t i = 0; i < 3; ++i) {
      n[i] = static_cast<int>(trays[i].n());
      up += static_cast<int>(trays[i].x());
    }
    CHECK_CLOSE(h.p, enumerated(n, up, h.chi_squared), 1e-11);
  }
}

TEST_CASE("many trays are drawn, near the chi-squared law") {
  std::vector<Tally> trays;
  for (int i = 0; i < 12; ++i) trays.emplace_back(20 + i % 5, 26 + i % 2);
  const Heterogeneity first = *heterogeneity(trays);
  CHECK(first.method == HeterogeneityMethod::drawn);
  CHECK(first.drawn);
  CHECK(first.draws == default_draws);
  CHECK_WITHIN(first.p, first.p_chi_squared, 0.03);
  std::reverse(trays.begin(), trays.end());
  CHECK(heterogeneity(trays)->p == first.p);  // the order of trays is nothing
  CHECK(heterogeneity(trays, 7)->p != first.p);
  CHECK(heterogeneity(trays, 7)->seed == 7);
  // Many marks in one huge tray beside small ones: dealt tray by tray, and the same law.
  const std::vector<Tally> huge{{3, 9}, {5, 9}, {60000, 100000}, {51000, 100000}, {4, 9}, {6, 9}};
  const Heterogeneity h = *heterogeneity(huge, default_seed, 2000);
  CHECK(h.method == HeterogeneityMethod::drawn);
  CHECK(h.p < 0.001);
}

TEST_CASE("what did not come up tells the same") {
  const std::vector<Tally> up{{9, 10}, {5, 10}, {10, 12}, {3, 4}},
      down{{1, 10}, {5, 10}, {2, 12}, {1, 4}};
  CHECK_CLOSE(heterogeneity(up)->p, heterogeneity(down)->p, 1e-11);
}

TEST_CASE("large counts go by the chi-squared law") {
  const Heterogeneity h = *heterogeneity(std::vector<Tally>{{60, 100}, {75, 100}, {66, 100}});
  CHECK(h.method == HeterogeneityMethod::chi_squared);
  CHECK(h.p == h.p_chi_squared);
  CHECK(h.draws == 0);
  // By hand: p = 0.67; (49 + 64 + 1) / (100 * 0.67 * 0.33) = 5.15603; p = exp(-2.578) on 2 df.
  CHECK_CLOSE(h.chi_squared, 114 / 22.11, 1e-12);
  CHECK_CLOSE(h.p, std::exp(-57 / 22.11), 1e-12);
}

TEST_CASE("nothing to compare") {
  CHECK_FALSE(heterogeneity(std::vector<Tally>{{5, 10}}).has_value());
  CHECK_FALSE(heterogeneity(std::vector<Tally>{{0, 10}, {0, 20}}).has_value());
  CHECK_FALSE(heterogeneity(std::vector<Tally>{{10, 10}, {20, 20}}).has_value());
  CHECK_FALSE(heterogeneity(std::vector<Tally>{{5, 10}, {0, 0}}).has_value());
  CHECK(heterogeneity(std::vector<Tally>{{2.5, 10}, {3, 10}})->method ==
        HeterogeneityMethod::chi_squared);
  CHECK_THROWS_AS(heterogeneity(std::vector<Tally>{{5, 10}, {3, 10}}, 1, 0), std::domain_error);
}
