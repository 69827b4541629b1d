// A comparison of treatments as text: the verdicts, the figures that carry them, the method last.
#pragma once

#include <string>

#include "analysis/treatment_comparison.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string comparison_text(const Style& style, const analysis::TreatmentComparison& finding,
                            bool full);

}  // namespace plumule::report
