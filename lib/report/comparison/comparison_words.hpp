// The verdict of a comparison in a grower's words, and how its parts are called.
#pragma once

#include <string>
#include <vector>

#include "analysis/comparison/treatment_comparison.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// "soak8 against untreated: more seedlings, and sooner."
std::string verdict_words(const analysis::TreatmentComparison& finding,
                          const analysis::Contrast& contrast);

// The p values that allow for all comparisons: "stand 0.012, drawing lots 0.25; days 0.001".
std::string holm_words(const analysis::Adjusted& holm);

// Of what came up, of what stands, and of the days, each by itself: "more seedlings"; where a loss
// was recorded "more came up", "fewer stand".
std::string stand_words(const analysis::TreatmentComparison& finding,
                        const analysis::Contrast& contrast);
std::string standing_words(const analysis::TreatmentComparison& finding,
                           const analysis::Contrast& contrast);
std::string speed_words(const analysis::Contrast& contrast);

// "seed lot", "day of sowing"; of several "block and place".
std::string factor_words(const std::vector<analysis::Factor>& factors);

// What differences are reckoned within and lots were drawn within: "block", or what else is kept
// apart; empty where nothing is.
std::string block_name(const analysis::TreatmentComparison& finding);

// What a unit is called here: "tray", "row", "jar" ...; "sowing" where they differ.
std::string unit_name(const analysis::TreatmentComparison& finding);

}  // namespace plumule::report
