// All the rest of a comparison, for `--full`: other intervals and tests, each labelled.
#pragma once

#include <string>

#include "analysis/comparison/treatment_comparison.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

std::string comparison_full(const Style& style, const analysis::TreatmentComparison& finding);

}  // namespace plumule::report
