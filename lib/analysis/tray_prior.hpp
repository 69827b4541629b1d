// What is believed beforehand of how much seeds of one sowing resemble each other, by its setting.
#pragma once

#include <optional>
#include <span>

#include "records/sowing.hpp"
#include "stats/rho_prior.hpp"

namespace plumule::analysis {

// rho ~ Beta(1, B): towels and dishes 49; trays, cells and pots 24; rows 14 (judged from public
// data; none for rows).
stats::RhoPrior prior_of(records::Setting setting);

// Of several settings the smallest B, which gives the widest interval. With `rho` that value,
// whatever the settings. No settings: as of a tray. Throws std::domain_error unless 0 <= rho < 1.
stats::RhoPrior prior_of(std::span<const records::Setting> settings, std::optional<double> rho);

}  // namespace plumule::analysis
