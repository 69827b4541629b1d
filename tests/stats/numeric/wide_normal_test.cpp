// Four at once against the standard library's one at a time.
#include "stats/numeric/wide_normal.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

struct AtFour {
  double exponential[4], below[4], density[4];
};

PLUMULE_WIDE
void at_four(const double* from, AtFour& out) {
  Four x, below, density;
  load(x, from);
  normal_at(x, below, density);
  to_exp(x);
  store(out.exponential, x);
  store(out.below, below);
  store(out.density, density);
}

}  // namespace

TEST_CASE("exp of four, and the normal's tail and density, as the standard library has them") {
  for (double from = -40; from < 40; from += 0.37) {
    const double x[4] = {from, from / 3, from / 50, -from / 7};
    AtFour got;
    at_four(x, got);
    for (std::size_t l = 0; l < 4; ++l) {
      INFO(x[l]);
      const double below = std::erfc(-x[l] / std::numbers::sqrt2) / 2;
      CHECK_WITHIN(got.exponential[l] / std::exp(x[l]), 1, 2e-13);
      CHECK_WITHIN(got.below[l], below, x[l] > -37 ? std::min(1e-13, 1e-5 * below) : 1e-290);
      CHECK_WITHIN(got.density[l], std::exp(-x[l] * x[l] / 2) / std::sqrt(2 * std::numbers::pi),
                   1e-13);
    }
  }
}

TEST_CASE("exp far below: no more than next to nothing") {
  const double x[4] = {-700, -800, -1e300, -HUGE_VAL};
  AtFour got;
  at_four(x, got);
  CHECK_WITHIN(got.exponential[0] / std::exp(-700.0), 1, 2e-13);
  for (std::size_t l = 1; l < 4; ++l) CHECK(got.exponential[l] < 1e-300);
}
