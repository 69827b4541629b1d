#include "analysis/tray_prior.hpp"

namespace plumule::analysis {

using records::Setting;

stats::RhoPrior prior_of(Setting setting) {
  switch (setting) {
    case Setting::towel:
    case Setting::dish:
      return stats::rho_from_beta(stats::rho_b_towels_and_dishes);
    case Setting::row:
      return stats::rho_from_beta(stats::rho_b_rows);
    case Setting::tray:
    case Setting::cells:
    case Setting::pot:
      break;
  }
  return stats::rho_from_beta(stats::rho_b_trays_cells_and_pots);
}

stats::RhoPrior prior_of(std::span<const Setting> settings, std::optional<double> rho) {
  if (rho) return stats::rho_fixed_at(*rho);
  if (settings.empty()) return prior_of(Setting::tray);
  stats::RhoPrior widest = prior_of(settings.front());
  for (const Setting setting : settings)
    if (const auto prior = prior_of(setting); prior.b < widest.b) widest = prior;
  return widest;
}

}  // namespace plumule::analysis
