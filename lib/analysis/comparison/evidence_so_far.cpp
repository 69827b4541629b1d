#include "analysis/comparison/evidence_so_far.hpp"

#include <algorithm>

namespace plumule::analysis {

std::optional<EvidenceSoFar> evidence_so_far(const TrialLayout& layout,
                                             std::span<const records::History> histories,
                                             const TrialState& state, std::size_t treatment,
                                             std::size_t against, std::uint64_t seed) {
  if (layout.several_trials) return std::nullopt;
  int until = state.now;
  if (state.closing.closed_on) until = std::min(until, *state.closing.closed_on);

  std::vector<stats::FollowedSowing>
      sowings;  // by unit code, then name: a seed then draws the same again
  bool both[2] = {false, false};
  for (std::size_t u = 0; u < layout.units.size(); ++u) {
    const auto& unit = layout.units[u];
    if (unit.treatment != treatment && unit.treatment != against) continue;
    for (const std::size_t i : unit.sowings) {
      if (!layout.sowings[i].course.units) continue;
      auto sowing = followed(histories[layout.sowings[i].place], state.first_day);
      sowing.block = unit.stratum;
      sowing.unit = static_cast<int>(u);
      sowing.treated = unit.treatment == treatment;
      both[sowing.treated ? 0 : 1] = true;
      sowings.push_back(std::move(sowing));
    }
  }
  if (!both[0] || !both[1]) return std::nullopt;
  EvidenceSoFar result;
  const int planned = std::max(1, state.closing.planned_last_day);
  result.sequential = stats::sequential_randomisation(sowings, planned, until, seed);
  result.seed_level = stats::daily_evidence(sowings, until);
  if (result.sequential.claimed_on)
    result.claimed_on = state.first_day + std::chrono::days(*result.sequential.claimed_on);
  return result;
}

}  // namespace plumule::analysis
