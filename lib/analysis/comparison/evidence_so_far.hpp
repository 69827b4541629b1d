// What may be read any day while a trial is open: the sequentially monitored randomisation test,
// and seed-level evidence deflated for trays.
#pragma once

#include <optional>
#include <span>

#include "analysis/trial/closing.hpp"
#include "analysis/trial/layout.hpp"
#include "stats/trials/daily_evidence.hpp"
#include "stats/trials/sequential_randomisation.hpp"

namespace plumule::analysis {

struct EvidenceSoFar {
  stats::SequentialRandomisation sequential;
  stats::DailyEvidence seed_level;
  std::optional<records::Date> claimed_on;
};

// Over the sowings of the two treatments with a known number sown, on the trial's clock, up to the
// day asked about or the day the trial closed; the histories are those that the layout was made of.
// None where the trial's sowings are of several
// trials: they were not laid out and looked at together.
std::optional<EvidenceSoFar> evidence_so_far(const TrialLayout& layout,
                                             std::span<const records::History> histories,
                                             const TrialState& state, std::size_t treatment,
                                             std::size_t against, std::uint64_t seed);

}  // namespace plumule::analysis
