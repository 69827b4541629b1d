// What shakes the ground under a comparison: sowings that were changed with the counts in sight,
// and jars that are recorded of some only.
#pragma once

#include <string>
#include <vector>

#include "analysis/comparison/treatment_comparison.hpp"

namespace plumule::report {

// "A6 (treatment, number sown)": each that was changed, with what.
std::vector<std::string> changed_names(const records::SowingsChanged& changed);

// "A6 and A7 were taken out of it after its first count": the beginning of a sentence.
std::string changed_words(const records::SowingsChanged& changed);

// A sentence for each of the two treatments whose jars are partly known: nothing is claimed for it.
std::vector<std::string> jars_words(const analysis::TreatmentComparison& finding,
                                    const analysis::Contrast& contrast);

}  // namespace plumule::report
