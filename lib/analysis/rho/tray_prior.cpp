#include "analysis/rho/tray_prior.hpp"

namespace plumule::analysis {

using records::Setting;

namespace {

stats::RhoPrior prior_of(Setting setting, const RhoChoice& choice) {
  if (choice.own)
    if (const auto& own = (*choice.own)[static_cast<std::size_t>(kind_of(setting))]; own.b) {
      auto prior = stats::rho_from_beta(*own.b);
      prior.groups = own.groups;
      return prior;
    }
  return analysis::prior_of(setting);
}

}  // namespace

SettingKind kind_of(Setting setting) {
  switch (setting) {
    case Setting::towel:
    case Setting::dish:
      return SettingKind::paper;
    case Setting::row:
      return SettingKind::row;
    case Setting::tray:
    case Setting::cells:
    case Setting::pot:
      break;
  }
  return SettingKind::soil;
}

stats::RhoPrior prior_of(Setting setting) {
  switch (kind_of(setting)) {
    case SettingKind::paper:
      return stats::rho_from_beta(stats::rho_b_towels_and_dishes);
    case SettingKind::row:
      return stats::rho_from_beta(stats::rho_b_rows);
    case SettingKind::soil:
      break;
  }
  return stats::rho_from_beta(stats::rho_b_trays_cells_and_pots);
}

stats::RhoPrior prior_of(std::span<const Setting> settings, const RhoChoice& choice) {
  if (choice.fixed) return stats::rho_fixed_at(*choice.fixed);
  if (settings.empty()) return prior_of(Setting::tray, choice);
  stats::RhoPrior widest = prior_of(settings.front(), choice);
  for (const Setting setting : settings)
    if (const auto prior = prior_of(setting, choice); prior.b < widest.b) widest = prior;
  return widest;
}

}  // namespace plumule::analysis
