// One treatment against another as JSON: stand, speed, tests, evidence so far, verdict.
#pragma once

#include "analysis/comparison/treatment_comparison.hpp"
#include "report/parts/json_parts.hpp"

namespace plumule::report {

// While the trial is open every p, chance and interval is null but `smallest_p` and `evidence`.
Json contrast_json(const analysis::TreatmentComparison& finding,
                   const analysis::Contrast& contrast);

}  // namespace plumule::report
