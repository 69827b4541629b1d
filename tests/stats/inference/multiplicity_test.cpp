// Holm's adjustment; statsmodels' values are in twoprop_reference_test.cpp.
#include "stats/inference/multiplicity.hpp"

#include <limits>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("Holm steps down in order and never falls back") {
  const std::vector<double> p{0.03, 0.01, 0.04, 0.9};
  const std::vector<double> adjusted = holm(p);
  // By hand: 4 x 0.01; 3 x 0.03; 2 x 0.04 = 0.08 raised to 0.09; 0.9.
  CHECK_CLOSE(adjusted[1], 0.04, 1e-14);
  CHECK_CLOSE(adjusted[0], 0.09, 1e-14);
  CHECK_CLOSE(adjusted[2], 0.09, 1e-14);
  CHECK_CLOSE(adjusted[3], 0.9, 1e-14);
  CHECK(holm(std::vector<double>{}).empty());
  CHECK(holm(std::vector<double>{0.6, 0.7})[0] == 1);
  CHECK_THROWS_AS(holm(std::vector<double>{0.5, 1.5}), std::domain_error);
  CHECK_THROWS_AS(holm(std::vector<double>{std::numeric_limits<double>::quiet_NaN()}),
                  std::domain_error);
}
