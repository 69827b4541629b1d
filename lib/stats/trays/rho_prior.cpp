// Beta(1, B) in closed form: no distribution library needed.
#include "stats/trays/rho_prior.hpp"

#include <cmath>
#include <stdexcept>

namespace plumule::stats {

void check_rho_prior(const RhoPrior& prior) {
  if (prior.is_fixed()) {
    if (!(prior.fixed < 1)) throw std::domain_error("a fixed rho must lie in [0, 1)");
    return;
  }
  if (!(prior.b >= 0.1 && prior.b <= 1e6))
    throw std::domain_error("the prior Beta(1, B) of rho needs B from 0.1 to 1000000");
  if (std::isnan(prior.fixed)) throw std::domain_error("a fixed rho must lie in [0, 1)");
}

RhoPrior rho_from_beta(double b) {
  const RhoPrior prior{b, -1};
  check_rho_prior(prior);
  return prior;
}

RhoPrior rho_fixed_at(double rho) {
  if (!(rho >= 0 && rho < 1)) throw std::domain_error("a fixed rho must lie in [0, 1)");
  return {rho_b_trays_cells_and_pots, rho};
}

double rho_quantile(const RhoPrior& prior, double u) {
  check_rho_prior(prior);
  if (!(u >= 0 && u < 1)) throw std::domain_error("a share of the prior of rho lies in [0, 1)");
  if (prior.is_fixed()) return prior.fixed;
  return -std::expm1(std::log1p(-u) / prior.b);
}

double rho90(const RhoPrior& prior) { return rho_quantile(prior, 0.9); }

double rho_mean(const RhoPrior& prior) {
  check_rho_prior(prior);
  return prior.is_fixed() ? prior.fixed : 1 / (1 + prior.b);
}

}  // namespace plumule::stats
