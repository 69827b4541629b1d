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

std::vector<stats::PlacedUnit> placed(const TrialLayout& layout, bool standing) {
  std::vector<stats::PlacedUnit> units;
  for (const auto& unit : layout.units)
    if (const auto stand = unit_stand(layout, unit))
      units.push_back({static_cast<int>(unit.treatment), unit.stratum,
                       stand->up - (standing ? stand->lost : 0), stand->sown});
  return units;
}

bool any_lost(const TrialLayout& layout) {
  return std::any_of(layout.sowings.begin(), layout.sowings.end(), [](const TrialSowing& sowing) {
    return sowing.in_stand && sowing.course.lost > 0;
  });
}

}  // namespace

StandModels stand_models(const TrialLayout& layout, const RhoChoice& rho, bool detail) {
  const auto prior = prior_for(layout, rho);
  const int treatments = static_cast<int>(layout.treatments.size());
  const auto came_up = placed(layout, false);
  StandModels made{
      prior, stats::rho90(prior), {came_up, treatments, prior}, std::nullopt, std::nullopt};
  if (any_lost(layout)) made.standing.emplace(placed(layout, true), treatments, prior);
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
