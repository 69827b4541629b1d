// The final stand of one treatment against another's: difference, intervals, tests and the verdict.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "analysis/comparison/verdict.hpp"
#include "analysis/proportion_reckoning.hpp"
#include "analysis/rho/rho_choice.hpp"
#include "analysis/trial/layout.hpp"
#include "stats/inference/t_test.hpp"
#include "stats/proportions/stratified.hpp"
#include "stats/trials/block_evidence.hpp"
#include "stats/trials/randomisation.hpp"
#include "stats/trials/stand_evidence.hpp"
#include "stats/trials/trays_to_tell.hpp"

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

// A difference of the fractions, as it is told.
struct StandDifference {
  double difference = 0;
  std::optional<stats::Interval> interval;
};

struct StandContrast {
  int units = 0;  // with a final stand, of the treatment
  int units_against = 0;
  stats::RhoPrior prior;
  double rho90 = 0;
  std::optional<double> difference;               // of the pooled fractions
  std::optional<stats::Interval> interval;        // tray-aware
  std::vector<stats::Interval> intervals;         // with detail only: it and the seed-level ones
  Effect ratio;                                   // likewise
  Effect odds_ratio;                              // likewise
  stats::Within within = stats::Within::nothing;  // what the verdict compares, and the t
  std::optional<stats::TTest> t;                  // on the units' fractions
  // The difference that the verdict goes by: of the t within blocks or sources, else of the pooled
  // fractions.
  std::optional<StandDifference> told;
  std::optional<stats::Randomisation> randomisation;
  SeedLevel seed_level;
  // The posterior's chances only where they are those of the treatment, not of seed lots as well.
  stats::StandEvidence evidence;
  StandVerdict verdict;
  Discord discord = Discord::none;
  std::optional<stats::TraysToTell> to_tell;          // where too small to tell
  std::optional<stats::BlocksToTell> blocks_to_tell;  // instead, where judged within blocks
  std::vector<int> sources_left_out;  // seed lots or trials that lack one of the two
};

struct StandQuestion {
  Circumstances circumstances;
  double worth = 0.10;  // smallest difference worth having
  double level = 0.95;
  RhoChoice rho;
  // Judged within blocks where the layout allows, unless after looking, for the Bayes factor knows
  // of none.
  bool blocks = true;
  std::uint64_t seed = stats::default_seed;
  bool detail = true;   // other intervals, ratios and the exact seed-level tests too
  bool to_tell = true;  // how many trays or blocks would tell, where too small
};

// While the trial is open only the difference stands, without interval, test or chance. Of several
// trials together nothing is claimed: they differ in more than the treatment.
StandContrast stand_contrast(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                             const StandQuestion& question);

}  // namespace plumule::analysis
