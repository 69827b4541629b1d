// Treatments that are doses of one thing (hours soaked): does more of it bring more, and is there a
// best dose within what was tried?
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/trial/layout.hpp"
#include "stats/proportions/dose_curve.hpp"
#include "stats/proportions/trend.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::analysis {

struct DoseAnswer {
  std::string unit = "hours soaked";
  std::vector<double> tried;          // ascending
  std::vector<std::string> left_out;  // treatments that were soaked and differ in more, by name
  bool single_unit = false;    // one tray or jar to some dose: no best dose can be told from it
  bool off_the_curve = false;  // the doses tried lie on no parabola: it has no say in the best
  double best_tried = 0;       // the dose of the largest share up, all of it together
  double best_tried_fraction = 0;
  stats::DoseCurve curve;  // quadratic in the log odds
  stats::BestDose best;
  std::optional<stats::TrendTest> trend;  // seed level
};

// None with fewer than three different soaks. Doses are treatments that differ in the hours alone:
// those that were nicked, chilled or primed too, or soaked in hot water (40 C and above), are left
// out, and so are those in water more than 2 C off that of most soaks (of the cooler where as many
// were in either); where its temperature is not known the water is taken as that of the others.
// (Both limits: common practice, no source.) Seed of the untreated is taken as not soaked; a
// treatment without soak hours is not a dose.
// The curve has a height of its own in each block, seed lot, place and day; its errors, and those
// of the best dose, are those of trays, of any size (stats/stand/doses.hpp).
std::optional<DoseAnswer> dose_answer(const TrialLayout& layout,
                                      std::span<const records::Treatment> treatments,
                                      const stats::RhoPrior& prior, double level);

}  // namespace plumule::analysis
