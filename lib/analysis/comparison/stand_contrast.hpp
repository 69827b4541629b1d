// The stand of one treatment against another's: difference, range and chances by the model of the
// stand; the drawing of lots and what takes every seed by itself, to hold beside it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "analysis/comparison/stand_models.hpp"
#include "analysis/comparison/verdict.hpp"
#include "analysis/proportion_reckoning.hpp"
#include "analysis/trial/layout.hpp"
#include "stats/proportions/stratified.hpp"
#include "stats/stand/claims.hpp"
#include "stats/stand/plan.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::analysis {

struct Effect {
  std::optional<double> estimate;          // none where it would be infinite or 0/0
  std::vector<stats::Interval> intervals;  // tray-aware, Newcombe, Miettinen-Nurminen
};

// Tests that take every seed as independent: they say too much where seeds share a tray.
struct SeedLevel {
  std::vector<SeedLevelTest> tests;
  std::optional<stats::ChiSquaredTest> mantel_haenszel;  // within strata, where there are two
  std::optional<stats::CommonOddsRatio> common_odds_ratio;
  std::optional<stats::OddsRatioAgreement> agreement;  // Breslow-Day
};

// Of one quantity, what came up or what stands: estimate, range, chances and claim are all of one
// model.
struct StandFinding {
  double plain = 0;  // difference of the pooled fractions
  stats::StandContrast by_model;
  bool told = false;             // the two can be told apart from what they lie in (parted_by)
  stats::JudgedContrast judged;  // over all that is shown together
  std::string judged_by;         // empty where nothing was judged

  // The difference that is shown: the model's, or where it cannot be told the plain one, which has
  // no range.
  double difference() const { return told ? by_model.estimate : plain; }
};

struct StandContrast {
  int units = 0;  // with a final stand, of the treatment
  int units_against = 0;
  std::optional<StandFinding> came_up;   // none where a treatment has no final stand
  std::optional<StandFinding> standing;  // likewise; where a loss was recorded of either
  std::vector<Factor> parted_by;         // where they can't be told apart: from what (layout.hpp)
  // What came up, were the seeds of one sowing alike at `unlike_rho`; with detail.
  std::optional<StandFinding> unlike;
  std::vector<stats::Interval> intervals;  // of what came up, plain, with detail: tray-aware, ...
  Effect ratio;                            // likewise
  Effect odds_ratio;                       // likewise
  std::optional<stats::Randomisation> randomisation;
  SeedLevel seed_level;
  Discord discord = Discord::none;
  std::optional<stats::TraysNeeded> to_tell;  // where too small to tell what came up
};

struct StandQuestion {
  bool open = true;     // the trial: only the difference stands, without test
  double worth = 0.10;  // smallest difference worth having
  double level = 0.95;
  std::uint64_t seed = stats::default_seed;
  bool detail = true;  // other intervals, ratios and the exact seed-level tests too
};

// The figures of the two; nothing is judged yet (judging.hpp).
StandContrast stand_contrast(const TrialLayout& layout, const StandModels& models,
                             std::size_t treatment, std::size_t against,
                             const StandQuestion& question);

}  // namespace plumule::analysis
