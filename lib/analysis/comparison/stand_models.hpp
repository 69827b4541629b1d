// The model of the stand that all treatments of a trial are read from: one of what came up and,
// where a loss was recorded, one of what stands.
#pragma once

#include <optional>
#include <vector>

#include "analysis/rho/rho_choice.hpp"
#include "analysis/trial/layout.hpp"
#include "stats/stand/model.hpp"

namespace plumule::analysis {

struct StandModels {
  stats::RhoPrior prior;
  double rho90 = 0;
  stats::StandModel came_up;
  std::optional<stats::StandModel> standing;
  std::optional<stats::StandModel> unlike;  // of what came up, were rho `unlike_rho`; with detail
};

// Trays more unlike than most: what an answer would be if they were.
inline constexpr double unlike_rho = 0.1;

// Units are those with a final stand, strata those of the layout.
StandModels stand_models(const TrialLayout& layout, const RhoChoice& rho, bool detail);

// Of a treatment: its standardised mean, 0 to 1, with its range.
struct ModelledStand {
  double mean = 0;
  stats::Interval range;
};
std::optional<ModelledStand> modelled_stand(const stats::StandModel& model, std::size_t treatment,
                                            double level);

}  // namespace plumule::analysis
