// The courses of a treatment's sowings as the time models take them, and the one family of times
// that all models of a comparison are of, so that one answer shows one curve of each treatment.
#pragma once

#include <optional>
#include <vector>

#include "analysis/trial/layout.hpp"
#include "stats/times/time_distribution.hpp"

namespace plumule::analysis {

// The courses of the sowings that were looked at, each marked with its unit. Unless `stopped_too`
// those are left out that met an accident, or were looked at no more while others came up: their
// mean days do not count.
std::vector<stats::TimeCourse> treatment_courses(const TrialLayout& layout, std::size_t treatment,
                                                 Clock clock, bool stopped_too);

// The likeliest for all treatments that can be fitted, each its own curve; none where none can.
std::optional<stats::TimeFamily> likeliest_family(const TrialLayout& layout);

// Whether any treatment was looked at too unevenly, beside that one, to go by the middles of gaps.
bool any_uneven(const TrialLayout& layout, std::size_t against);

}  // namespace plumule::analysis
