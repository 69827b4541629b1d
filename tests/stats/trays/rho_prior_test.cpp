// The prior of rho: its points, its means, what it refuses.
#include "stats/trays/rho_prior.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the 90 % point of the prior of rho is the printed one") {
  // simulation study, computed: 0.023, 0.057 and 0.114 for Beta(1, 99), Beta(1, 39), Beta(1, 19)
  CHECK_WITHIN(rho90(rho_from_beta(99)), 0.023, 0.0005);
  CHECK_WITHIN(rho90(rho_from_beta(39)), 0.057, 0.0005);
  CHECK_WITHIN(rho90(rho_from_beta(19)), 0.114, 0.0005);
  // by its definition: the share above it, (1 - rho)^B, is a tenth
  for (const double b : {rho_b_towels_and_dishes, rho_b_trays_cells_and_pots, rho_b_rows})
    CHECK_CLOSE(std::pow(1 - rho90(rho_from_beta(b)), b), 0.1, 1e-12);
  CHECK(rho90(rho_fixed_at(0.03)) == 0.03);
}

TEST_CASE("the mean of the prior of rho is that of a beta, and a fixed rho is itself") {
  CHECK_CLOSE(rho_mean(rho_from_beta(24)), 0.04, 1e-12);
  CHECK(rho_mean(rho_fixed_at(0)) == 0);
  CHECK(rho_quantile(rho_from_beta(24), 0) == 0);
  CHECK_CLOSE(rho_quantile(rho_from_beta(1), 0.3), 0.3, 1e-12);  // Beta(1, 1) is uniform
}

TEST_CASE("priors of rho that cannot be are refused") {
  CHECK_THROWS_AS(rho_from_beta(0), std::domain_error);
  CHECK_THROWS_AS(rho_from_beta(1e7), std::domain_error);
  CHECK_THROWS_AS(rho_fixed_at(1), std::domain_error);
  CHECK_THROWS_AS(rho_fixed_at(-0.1), std::domain_error);
  CHECK_THROWS_AS(rho_quantile(rho_from_beta(24), 1), std::domain_error);
  CHECK_THROWS_AS(check_rho_prior({24, std::numeric_limits<double>::quiet_NaN()}),
                  std::domain_error);
}
