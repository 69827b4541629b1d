// What is known of a crop, as text and as JSON.
#pragma once

#include <string>

#include "analysis/crop_facts.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// What is asked first, in about ten lines.
std::string crop_gist_text(const Style& style, const analysis::CropFacts& finding);
// All of it: each fact with its source, disagreements side by side.
std::string crop_text(const Style& style, const analysis::CropFacts& finding);
std::string crop_list_text(const Style& style, const analysis::CropList& list);
// "No crop called X is known. Did you mean Y or Z?"
std::string unknown_crop(const analysis::CropFacts& finding);

std::string crop_json(const analysis::CropFacts& finding);
std::string crop_list_json(const analysis::CropList& list);

}  // namespace plumule::report
