// All cells together against TrayLikelihood, a cell at a time by log Gamma differences.
#include "stats/stand/likelihood.hpp"

#include <cmath>
#include <vector>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// Cells of strata with so many treatments, each of trays of these sizes.
void check(int treatments, int strata, const std::vector<std::int64_t>& sizes, double extreme = 0) {
  Random random(1);
  std::vector<PlacedUnit> units;
  for (int b = 0; b < strata; ++b)
    for (int t = 0; t < treatments; ++t)
      for (const auto size : sizes)
        units.push_back({t, b, random.beta_binomial(size, 0.8, 0.1), size});
  const auto layout = lay_out(units, treatments);
  StandLikelihood together(layout);
  for (const double theta : {0.0, 1e-6, 0.03, 0.5, 20.0, 1e6}) {
    std::vector<double> fraction, missing;
    double expected = 0;
    for (const auto& cell : layout.cells) {
      missing.push_back(extreme > 0 ? extreme : 0.05 + 0.9 * random.unit());
      fraction.push_back(1 - missing.back());
      expected += TrayLikelihood(cell.counts).log_at(fraction.back(), missing.back(), theta);
    }
    INFO(theta);
    CHECK_WITHIN(together.log_at(fraction, missing, theta), expected,
                 1e-11 * (1 + std::fabs(expected)));
  }
}

}  // namespace

TEST_CASE("a cell or two, and more than twelve starts hold") {
  check(1, 1, {50});
  check(2, 1, {25, 25, 50, 10});
  check(6, 8, {50});
  check(3, 5, {1, 300, 7, 200});
}

TEST_CASE("units too large for products, and products too small") {
  check(2, 1, {301, 20});
  check(2, 2, {1'000'000});
  check(2, 1, {300, 250, 300}, 1e-12);
}
