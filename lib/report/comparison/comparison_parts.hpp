// The parts of a comparison's answer, each in a file of its own.
#pragma once

#include <string>
#include <vector>

#include "analysis/comparison/treatment_comparison.hpp"
#include "report/parts/json_parts.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// What limits the verdict or seems to speak against it, a sentence each: one tray or one jar, trays
// that would tell, interval and randomisation test reconciled, claims after looking.
std::vector<std::string> verdict_remarks(const analysis::TreatmentComparison& finding,
                                         const analysis::Contrast& contrast, HintWords hints);

// "A6 (treatment, number sown)": each sowing that was changed, with what.
std::vector<std::string> changed_names(const records::SowingsChanged& changed);

// Whether there is a best dose within what was tried.
std::string dose_text(const Style& style, const analysis::DoseAnswer& dose);

// All the rest, for `--full`: other intervals and tests, each labelled.
std::string comparison_full(const Style& style, const analysis::TreatmentComparison& finding);

// One contrast, with the promised names.
Json contrast_json(const analysis::TreatmentComparison& finding, const analysis::Contrast& contrast,
                   HintWords hints);

}  // namespace plumule::report
