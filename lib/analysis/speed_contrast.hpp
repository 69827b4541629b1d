// How much sooner or later one treatment comes up than another, on both clocks, and the verdict.
#pragma once

#include <optional>

#include "analysis/trial_layout.hpp"
#include "stats/emergence_treatments.hpp"
#include "stats/grouped_rank_test.hpp"
#include "stats/randomisation.hpp"
#include "stats/speed_comparison.hpp"

namespace plumule::analysis {

enum class SpeedCode { sooner, sooner_after_sowing, later, neither, too_small, open };

enum class SpeedGround {
  trial_open,
  t_on_sowings,    // p <= 0.05 on the sowings' mean days
  within_one_day,  // the 90 % interval lies within one day either way
  one_unit_each,   // a treatment has one unit with anything up
  nothing_up,      // a treatment has nothing up at all
  no_variance,     // the units of each treatment came up in exactly the same days
  nothing_decided,
};

// A difference between units with the randomisation test of the same values beside it.
struct SpeedFigure {
  stats::SpeedDifference difference;
  std::optional<stats::Randomisation> randomisation;
};

struct SpeedContrast {
  SpeedFigure mean_days;                           // since sowing
  SpeedFigure t50;                                 // likewise
  std::optional<SpeedFigure> mean_days_wetted;     // since wetting, where seed was wetted before
  std::optional<stats::GroupedRankTest> log_rank;  // Sun's scores, sowings permuted
  std::optional<stats::TreatmentsModel> model;     // both treatments, each its own curve
  std::optional<stats::TimeRatio> time_ratio;      // of the model's t50
  int nothing_up = 0;                              // units with nothing up: they have no days
  SpeedCode code = SpeedCode::too_small;
  SpeedGround ground = SpeedGround::nothing_decided;
};

struct SpeedQuestion {
  bool open = true;  // only the differences, no test
  std::uint64_t seed = stats::default_seed;
  bool detail = true;  // rank test and model too
  stats::TimeFamily family = stats::TimeFamily::log_logistic;
};

// `sooner` needs both clocks where seed was wetted before sowing: else it is sooner after sowing.
SpeedContrast speed_contrast(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                             const SpeedQuestion& question);

}  // namespace plumule::analysis
