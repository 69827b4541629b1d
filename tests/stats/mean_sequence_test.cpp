// Half-widths that hold at all n (their values are checked in the anytime table): order and
// refusals.
#include "stats/mean_sequence.hpp"

#include <stdexcept>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("an interval for one n is narrower than those for all n") {
  for (const std::int64_t n : {10, 100, 10000}) {
    const double fixed = hoeffding_half_width(n, 0.05);
    CHECK(normal_mixture_half_width(n, 0.05, 2.5) > fixed);
    CHECK(stitched_half_width(n, 0.05) > fixed);
    CHECK(stitched_intrinsic_half_width(n, 0.05) > fixed);
    CHECK(stitched_half_width(n, 0.01) > stitched_half_width(n, 0.05));
  }
}

TEST_CASE("half-widths of nothing, at impossible levels or tunings are refused") {
  CHECK_THROWS_AS(hoeffding_half_width(0, 0.05), std::domain_error);
  CHECK_THROWS_AS(normal_mixture_half_width(10, 0, 1), std::domain_error);
  CHECK_THROWS_AS(normal_mixture_half_width(10, 0.05, 0), std::domain_error);
  CHECK_THROWS_AS(stitched_half_width(10, 1), std::domain_error);
  CHECK_THROWS_AS(stitched_intrinsic_half_width(10, 0.05, -1), std::domain_error);
}
