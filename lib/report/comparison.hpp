// A comparison of treatments, as text and as JSON.
#pragma once

#include <string>

#include "analysis/comparison/treatment_comparison.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// The verdicts, the figures that carry them, the method last.
std::string comparison_text(const Style& style, const analysis::TreatmentComparison& finding,
                            bool full);

// With the promised names; remarks with the hints in the front end's words.
std::string comparison_json(const analysis::TreatmentComparison& finding,
                            HintWords hints = nullptr);

}  // namespace plumule::report
