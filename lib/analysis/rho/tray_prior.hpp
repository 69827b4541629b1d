// What is believed beforehand of how much seeds of one sowing resemble each other, by its setting.
#pragma once

#include <span>

#include "analysis/rho/rho_choice.hpp"
#include "records/sowing.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::analysis {

SettingKind kind_of(records::Setting setting);

// rho ~ Beta(1, B): towels and dishes 49; trays, cells and pots 24; rows 14 (judged from public
// data; none for rows).
stats::RhoPrior prior_of(records::Setting setting);

// As chosen: that value whatever the settings; or the prior of each setting, the grower's own where
// it could be told, and of several settings the smallest B, which gives the widest interval. No
// settings: as of a tray. Throws std::domain_error for a value outside [0, 1).
stats::RhoPrior prior_of(std::span<const records::Setting> settings, const RhoChoice& choice);

}  // namespace plumule::analysis
