// A dose curve's errors at the level of trays of any size: each tray counts as the seeds it is
// worth.
#pragma once

#include <span>
#include <vector>

#include "stats/proportions/dose_curve.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::stats {

// Seeds of one tray resemble each other, so n of them tell as much as n / (1 + (n - 1) rho)
// independent ones (Williams 1982, Appl. Stat. 31:144). rho is the mean of the model of the stand
// (stand/model.hpp) with every dose a treatment of its own, the larger of its two weighings: it
// sees the trays of one dose, not how well a curve fits. For fit_dose_curve and best_dose, whose
// dispersion, at least 1, and Student's t stand above that; with equal trays it only keeps the
// dispersion from falling under what trays at large show. Sowings must be whole seeds, of which
// those without any are passed over; throws std::domain_error otherwise, or for a prior that cannot
// be.
struct DosesInTrays {
  double rho = 0;
  std::vector<DoseGroup> sowings;  // in the order given, without those of no seed
};
DosesInTrays worth_of_trays(std::span<const DoseGroup> sowings, const RhoPrior& prior);

}  // namespace plumule::stats
