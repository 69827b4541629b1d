// One treatment held against another: stand, speed, what may be said so far, and the verdict.
#pragma once

#include <optional>
#include <string>

#include "analysis/evidence_so_far.hpp"
#include "analysis/speed_contrast.hpp"
#include "analysis/stand_contrast.hpp"

namespace plumule::analysis {

struct Contrast {
  std::string treatment;
  std::string against;
  StandContrast stand;
  SpeedContrast speed;
  std::optional<EvidenceSoFar> evidence;
  // Holm's adjustment over the contrasts shown together; none with one, or while open.
  std::optional<double> randomisation_holm;
  std::optional<double> t_holm;
  std::string code;        // verdict_code
  bool one_batch = false;  // all of the treatment's seed was treated together
  bool one_batch_against = false;
};

// A claim on the stand (more, fewer), then one on speed (sooner, sooner-after-sowing, later),
// joined by '+'; with no claim `neither` if both are, else `too-small`; `open` while the trial is.
std::string verdict_code(stats::StandCode stand, SpeedCode speed);

}  // namespace plumule::analysis
