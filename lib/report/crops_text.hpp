// What is known of a crop, as text: each fact with its source, disagreements side by side.
#pragma once

#include <string>

#include "analysis/crop_facts.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

// What is asked first, in about ten lines.
std::string crop_gist_text(const Style& style, const analysis::CropFacts& finding);
// All of it.
std::string crop_text(const Style& style, const analysis::CropFacts& finding);
std::string crop_list_text(const Style& style, const analysis::CropList& list);
// "No crop called X is known. Did you mean Y or Z?"
std::string unknown_crop(const analysis::CropFacts& finding);

}  // namespace plumule::report
