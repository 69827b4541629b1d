// What is believed beforehand of rho, the correlation of seeds within one sowing: Beta(1, B), or a
// fixed value. Every tray-aware figure names the prior in force.
#pragma once

#include <cstdint>

namespace plumule::stats {

// B by setting (judged from public data, see the tray-aware interval): the larger B, the closer
// sowings of one treatment are believed to agree. Prior mean of rho: 1 / (1 + B).
inline constexpr double rho_b_towels_and_dishes = 49;
inline constexpr double rho_b_trays_cells_and_pots = 24;
inline constexpr double rho_b_rows = 14;

struct RhoPrior {
  double b = rho_b_trays_cells_and_pots;  // rho ~ Beta(1, b); 0.1 <= b <= 1e6
  double fixed = -1;                      // in [0, 1): rho is that value; negative: not fixed
  std::int64_t groups = 0;                // of the grower's own, that b was learned from; else 0

  bool is_fixed() const { return fixed >= 0; }
};

// The two ways to make one; each throws std::domain_error outside the ranges above.
RhoPrior rho_from_beta(double b);
RhoPrior rho_fixed_at(double rho);

// Throws std::domain_error unless the prior is usable.
void check_rho_prior(const RhoPrior& prior);

// The 90 % point of the prior: 1 - 0.1^(1/B) (0.046 for 49, 0.091 for 24, 0.152 for 14), or the
// fixed value.
double rho90(const RhoPrior& prior);

// Prior mean of rho, and the value of rho below which the share u of the prior lies, 0 <= u < 1.
double rho_mean(const RhoPrior& prior);
double rho_quantile(const RhoPrior& prior, double u);

}  // namespace plumule::stats
