// How a trial stands, in a grower's words: open or closed, how evenly it was looked at, and what
// may be said of it so far.
#pragma once

#include <span>
#include <string>

#include "analysis/comparison/treatment_comparison.hpp"

namespace plumule::report {

// Said once: where looks were so uneven that the middles of the gaps deceive, and what to go by;
// empty where they were not.
std::string looks_words(std::span<const analysis::Contrast> contrasts);

// While open: what may be said so far.
std::string so_far_words(const analysis::Contrast& contrast);

// Open until when, or how and when it closed.
std::string state_words(const analysis::TreatmentComparison& finding);

}  // namespace plumule::report
