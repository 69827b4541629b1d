// How much sooner or later one treatment comes up than another, on both clocks.
#pragma once

#include <optional>
#include <vector>

#include "analysis/trial/layout.hpp"
#include "stats/times/emergence_treatments.hpp"
#include "stats/times/grouped_score_test.hpp"
#include "stats/times/look_gaps.hpp"
#include "stats/times/speed_comparison.hpp"
#include "stats/trials/grouped_rank_test.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::analysis {

// A difference between units with the randomisation test of the same values beside it.
struct SpeedFigure {
  stats::SpeedDifference difference;
  std::optional<stats::Randomisation> randomisation;
};

// The time model of both treatments together, each with its own timing.
struct JointFit {
  bool shared_spread = false;
  bool shared_fraction = false;
  stats::TreatmentsModel model;
  std::optional<stats::TimeRatio> ratio;
};

struct SpeedContrast {
  SpeedFigure mean_days;                           // since sowing
  SpeedFigure t50;                                 // likewise, where asked for
  std::optional<SpeedFigure> mean_days_wetted;     // since wetting, where seed was wetted before
  std::optional<stats::GroupedRankTest> log_rank;  // Sun's scores; p_sowings: units, within blocks
  std::optional<stats::GroupedRankTest> wilcoxon;  // S(L) + S(R) - 1, likewise
  std::optional<stats::GroupedScoreTest> score;    // of proportional hazards, seed level
  // First the lead, in which each treatment has its own spread and fraction; then those with the
  // spread, the fraction, or both in common, as far as they can be fitted. All are of one family
  // and of every sowing looked at, also of those stopped early.
  std::vector<JointFit> joint;
  std::optional<stats::TimeRatio> time_ratio;      // of t50, by the lead
  stats::LookGaps looks;                           // how evenly both were looked at
  std::optional<stats::GapAllowance> gaps;         // what they allow; where uneven, closed only
  std::optional<stats::GapAllowance> gaps_wetted;  // likewise since wetting
  int nothing_up = 0;                              // units with nothing up: they have no days
  bool confounded = false;                         // no stratum has both
  std::vector<Factor> parted_by;                   // then: what tells them apart (layout.hpp)
};

struct SpeedQuestion {
  bool open = true;  // the trial: only the differences, no test
  std::uint64_t seed = stats::default_seed;
  double level = 0.95;  // of the intervals; claims keep their own
  bool detail = true;   // rank test and model too
  bool t50 = true;
  std::optional<stats::TimeFamily> family;  // none: the likeliest of both together
};

// The figures, of which nothing is judged yet (judging.hpp). Claims go by the units' mean days.
SpeedContrast speed_contrast(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                             const SpeedQuestion& question);

}  // namespace plumule::analysis
