// See the header.
#include "stats/stand/doses.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "stats/stand/model.hpp"

namespace plumule::stats {

DosesInTrays worth_of_trays(std::span<const DoseGroup> sowings, const RhoPrior& prior) {
  check_rho_prior(prior);
  std::map<double, int> doses;
  std::vector<PlacedUnit> units;
  DosesInTrays made;
  for (const auto& sowing : sowings) {
    if (!std::isfinite(sowing.dose)) throw std::domain_error("a dose must be a finite number");
    if (!sowing.tally.whole()) throw std::domain_error("a sowing must be of whole seeds");
    if (sowing.tally.n() == 0) continue;
    const int dose = doses.try_emplace(sowing.dose, static_cast<int>(doses.size())).first->second;
    units.push_back(
        {dose, sowing.stratum, std::llround(sowing.tally.x()), std::llround(sowing.tally.n())});
    made.sowings.push_back(sowing);
  }
  if (units.empty()) return made;
  const StandModel model(units, static_cast<int>(doses.size()), prior);
  made.rho = std::max(model.rho_by_trial(), model.rho_at_large());
  for (auto& sowing : made.sowings) {
    const double f = 1 + (sowing.tally.n() - 1) * made.rho;
    sowing.tally = Tally(sowing.tally.x() / f, sowing.tally.n() / f);
  }
  return made;
}

}  // namespace plumule::stats
