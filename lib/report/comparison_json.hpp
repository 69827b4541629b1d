// A comparison of treatments as JSON, with the promised names.
#pragma once

#include "analysis/treatment_comparison.hpp"
#include "report/json_parts.hpp"

namespace plumule::report {

Json comparison_json(const analysis::TreatmentComparison& finding);
}  // namespace plumule::report
