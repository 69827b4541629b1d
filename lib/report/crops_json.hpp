// What is known of a crop, as JSON.
#pragma once

#include "analysis/crop_facts.hpp"
#include "report/json_parts.hpp"

namespace plumule::report {

Json crop_json(const analysis::CropFacts& finding);
Json crop_list_json(const analysis::CropList& list);

}  // namespace plumule::report
