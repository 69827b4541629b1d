// One treatment held against another: stand, speed, what may be said so far, and the verdicts.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "analysis/comparison/evidence_so_far.hpp"
#include "analysis/comparison/speed_contrast.hpp"
#include "analysis/comparison/stand_contrast.hpp"
#include "analysis/comparison/verdict.hpp"

namespace plumule::analysis {

// p values allowing for all the comparisons of a family (Holm); none where a comparison has none.
struct Adjusted {
  int comparisons = 0;
  std::optional<double> came_up, standing;  // by the model of the stand
  std::optional<double> randomisation;      // of what came up
  std::optional<double> days;               // t on the units' mean days, from sowing
};

struct Contrast {
  std::string treatment;
  std::string against;
  StandContrast stand;
  SpeedContrast speed;
  std::optional<EvidenceSoFar> evidence;  // while the trial is open, or asked for in detail
  // What the verdicts went by where several comparisons were shown together: over all that are held
  // against the same; of another pair, over all pairs. None while the trial is open.
  std::optional<Adjusted> holm;
  std::optional<Adjusted> holm_pairs;  // over all pairs, where those are reckoned
  // Where nobody looked near the trial's last day (last_looks.hpp): the last that was.
  std::optional<records::Date> last_look;
  Circumstances circumstances;
  Verdicts verdicts;
  Joint joint = Joint::open;
  std::string code;        // joint_code
  bool one_batch = false;  // all of the treatment's seed was treated together
  bool one_batch_against = false;
  bool one_unit = false;  // of the treatment there is one unit to go by
  bool one_unit_against = false;
  // At its last look most sowings of the treatment still found new ones: what only hurries then
  // looks like more.
  bool still_rising = false;
  bool still_rising_against = false;
};

// What is asked of every contrast of an answer.
struct ContrastQuestion {
  TrialState state;
  bool after_looking = false;
  StandQuestion stand;
  SpeedQuestion speed;
  bool evidence = false;  // what could be read while it was open, of a closed trial too
};

// The figures, of which nothing is judged yet (judging.hpp). Treatments by their index in the
// layout; the histories are those that it was made of.
Contrast contrast(const TrialLayout& layout, const StandModels& models,
                  std::span<const records::History> histories, const ContrastQuestion& question,
                  std::size_t treatment, std::size_t against);

}  // namespace plumule::analysis
