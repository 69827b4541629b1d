// One treatment held against another: stand, speed, what may be said so far, and the verdict.
#pragma once

#include <optional>
#include <string>

#include "analysis/comparison/evidence_so_far.hpp"
#include "analysis/comparison/speed_contrast.hpp"
#include "analysis/comparison/stand_contrast.hpp"

namespace plumule::analysis {

// p values allowing for all the comparisons of a family (Holm); a comparison that has none counts
// as one with p = 1.
struct Adjusted {
  int comparisons = 0;
  std::optional<double> randomisation;  // of the stand
  std::optional<double> t;              // on the units' fractions
  std::optional<double> days;           // t on the units' mean days, from sowing
};

struct Contrast {
  std::string treatment;
  std::string against;
  StandContrast stand;
  SpeedContrast speed;
  std::optional<EvidenceSoFar> evidence;  // while the trial is open, or asked for in detail
  // None where the family has one comparison only, and while the trial is open.
  std::optional<Adjusted> holm;  // over all that are held against the same; not of other pairs
  std::optional<Adjusted> holm_pairs;  // over all pairs, where those are reckoned
  // Where nobody looked near the trial's last day (last_looks.hpp): the last that was. Then nothing
  // is claimed of the stand, and days that are alike so far are not `neither`.
  std::optional<records::Date> last_look;
  std::string code;        // verdict_code
  bool one_batch = false;  // all of the treatment's seed was treated together
  bool one_batch_against = false;
};

// A claim on the stand (more, fewer), then one on speed (sooner, sooner-after-sowing, later),
// joined by '+'; with no claim `neither` if both are, else `too-small`; `open` while the trial is.
std::string verdict_code(stats::StandCode stand, SpeedCode speed);

}  // namespace plumule::analysis
