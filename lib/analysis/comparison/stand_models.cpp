#include "analysis/comparison/stand_models.hpp"

#include <algorithm>

#include "analysis/rho/tray_prior.hpp"

namespace plumule::analysis {

namespace {

stats::RhoPrior prior_for(const TrialLayout& layout, const RhoChoice& rho) {
  std::vector<records::Setting> settings;
  for (const auto& sowing : layout.sowings)
    if (sowing.in_stand) settings.push_back(sowing.setting);
  return prior_of(settings, rho);
}

std::vector<stats::PlacedUnit> placed(const TrialLayout& layout, const std::vector<int>& strata,
                                      bool standing) {
  std::vector<stats::PlacedUnit> units;
  for (std::size_t u = 0; u < layout.units.size(); ++u) {
    stats::PlacedUnit unit{static_cast<int>(layout.units[u].treatment), strata[u], 0, 0};
    for (const std::size_t i : layout.units[u].sowings) {
      const auto& sowing = layout.sowings[i];
      if (!sowing.in_stand) continue;
      unit.up += sowing.course.up - (standing ? sowing.course.lost : 0);
      unit.sown += *sowing.course.units;
    }
    if (unit.sown > 0) units.push_back(unit);
  }
  return units;
}

bool any_lost(const TrialLayout& layout) {
  return std::any_of(layout.sowings.begin(), layout.sowings.end(), [](const TrialSowing& sowing) {
    return sowing.in_stand && sowing.course.lost > 0;
  });
}

}  // namespace

StandModels stand_models(const TrialLayout& layout, const RhoChoice& rho, bool blocks,
                         bool detail) {
  const auto prior = prior_for(layout, rho);
  const auto strata = strata_of(layout, blocks);
  const int treatments = static_cast<int>(layout.treatments.size());
  const auto came_up = placed(layout, strata, false);
  StandModels made{
      prior, stats::rho90(prior), {came_up, treatments, prior}, std::nullopt, std::nullopt};
  if (any_lost(layout)) made.standing.emplace(placed(layout, strata, true), treatments, prior);
  if (detail) made.unlike.emplace(came_up, treatments, stats::rho_fixed_at(unlike_rho));
  return made;
}

std::optional<ModelledStand> modelled_stand(const stats::StandModel& model, std::size_t treatment,
                                            double level) {
  if (model.layout().units[treatment] == 0) return std::nullopt;
  const int one = static_cast<int>(treatment);
  return ModelledStand{model.mean(one), model.range(one, level)};
}

}  // namespace plumule::analysis
