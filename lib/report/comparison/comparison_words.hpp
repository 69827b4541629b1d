// The verdict of a comparison in a grower's words, and how its parts are called.
#pragma once

#include <string>

#include "analysis/comparison/treatment_comparison.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// "soak8 against untreated: more seedlings, and sooner."
std::string verdict_words(const analysis::TreatmentComparison& finding,
                          const analysis::Contrast& contrast);

// The p values that allow for all comparisons: "stand: t 0.012, drawing lots 0.25; days: t 0.001".
std::string holm_words(const analysis::Adjusted& holm);

// Of the stand, and of the days, by itself: "more seedlings".
std::string stand_words(const analysis::TreatmentComparison& finding,
                        const analysis::Contrast& contrast);
std::string speed_words(const analysis::TreatmentComparison& finding,
                        const analysis::Contrast& contrast);

// What every sowing of the one differs in from every sowing of the other: "the seed lot".
std::string confounded_with(const analysis::TreatmentComparison& finding);

// What a source is here: `seed lot` or `trial`.
std::string source_name(const analysis::TreatmentComparison& finding);

// What lots were drawn within: `block`, else `seed lot` or `trial`.
std::string block_name(const analysis::TreatmentComparison& finding);

// What a unit is called here: "tray", "row", "jar" ...; "sowing" where they differ.
std::string unit_name(const analysis::TreatmentComparison& finding);

}  // namespace plumule::report
