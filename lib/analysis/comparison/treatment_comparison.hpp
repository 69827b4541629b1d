// Did the treatment help: more seedlings, or sooner, or neither? The treatments of a trial, each
// against the one they are held against, with a verdict each.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/comparison/contrast.hpp"
#include "analysis/comparison/dose_answer.hpp"
#include "analysis/rho/rho_choice.hpp"
#include "analysis/summary/group.hpp"
#include "analysis/trial/closing.hpp"
#include "stats/trials/global_test.hpp"

namespace plumule::analysis {

struct ComparisonQuestion {
  std::string subject;                  // what was asked about, as it is called
  std::optional<records::Trial> trial;  // where it is one trial
  std::string typed;                    // the names asked about, as a command takes them
  std::optional<int> picked_of;         // its sowings were picked by hand, from so many
  std::vector<records::Treatment> treatments;
  std::optional<std::string> treatment;  // only this one
  std::optional<std::string> against;    // instead of `untreated`
  records::Date today{};
  double level = 0.95;
  std::optional<double> worth;  // fraction; else the trial's, else 0.10
  RhoChoice rho;
  std::uint64_t seed = stats::default_seed;
  bool model = true;
  std::optional<stats::TimeFamily> family;
  // Other intervals, ratios, gaps, models, rank tests, exact seed-level tests, all other pairs and,
  // of a closed trial, what could be read while it was open.
  bool detail = true;
};

// Of a treatment by the model of the stand that its contrasts are read from; none where it has no
// final stand, and `standing` only where a loss was recorded of any.
struct TreatmentStand {
  std::optional<ModelledStand> came_up, standing;
};

struct TreatmentComparison {
  std::string subject;
  std::string question;  // the trial's, in the grower's words
  TrialState state;
  std::optional<int> picked_of;
  // The trial was closed or changed with its counts in sight, or trays were picked that may be
  // those that look good: a claim on the stand then asks for more.
  bool after_looking = false;
  double worth = 0.10;
  double level = 0.95;
  std::uint64_t seed = 0;
  TrialLayout layout;
  std::vector<Group> treatments;       // with detail alone their stands have a range
  std::vector<TreatmentStand> stands;  // of each, in that order
  stats::RhoPrior prior;               // of the model of the stand
  double rho90 = 0;
  std::string against;              // what the others are held against
  std::vector<Contrast> contrasts;  // each treatment against it
  std::vector<Contrast> pairs;      // all other pairs, where there are three treatments or more
  std::optional<stats::GlobalTest> global;  // of the stand; three treatments or more, closed
  std::optional<DoseAnswer> dose;           // of one trial, closed only
  // Sowings that more came up in after the trial had closed: those counts are in no figure here.
  std::vector<std::string> more_after_close;
  std::vector<std::string> lost_after_close;  // likewise of those that lost seedlings after it
};

// Throws records::Refused where there is nothing to compare: fewer than two treatments, or a
// treatment that no sowing has; the sentence says what to do.
TreatmentComparison compare_treatments(std::span<const records::History> histories,
                                       const ComparisonQuestion& question);

}  // namespace plumule::analysis
