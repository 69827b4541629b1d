// Fieller's set: membership by its inequality, point by point.
#include "stats/inference/fieller.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("a ratio is in the set if and only if its inequality holds") {
  Random random(12);
  int kinds[3] = {0, 0, 0};
  for (int i = 0; i < 400; ++i) {
    const double a = random.normal() * 2, b = random.normal(), va = random.unit(),
                 vb = random.unit(), c = (2 * random.unit() - 1) * std::sqrt(va * vb), t = 1.5;
    const FiellerSet set = fieller(a, b, va, vb, c, t);
    ++kinds[static_cast<int>(set.kind)];
    for (double r = -30.03; r < 30; r += 0.37) {
      const double off = a - r * b, variance = va - 2 * r * c + r * r * vb;
      const bool holds = off * off <= t * t * variance;
      const bool inside = set.kind == FiellerKind::everything ||
                          (set.kind == FiellerKind::bounded ? r >= set.lower && r <= set.upper
                                                            : r <= set.lower || r >= set.upper);
      CHECK(holds == inside);
    }
  }
  for (const int seen : kinds) CHECK(seen > 20);
}

TEST_CASE("a sure denominator gives the ordinary interval") {
  const FiellerSet set = fieller(6, 2, 0.25, 0, 0, 1.96);
  CHECK(set.kind == FiellerKind::bounded);
  CHECK_CLOSE(set.lower, (6 - 1.96 * 0.5) / 2, 1e-12);
  CHECK_CLOSE(set.upper, (6 + 1.96 * 0.5) / 2, 1e-12);
  CHECK_THROWS_AS(fieller(1, 1, -1, 1, 0, 2), std::domain_error);
}
