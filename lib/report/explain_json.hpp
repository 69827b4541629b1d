// The meaning of a figure, test or index, as JSON.
#pragma once

#include <vector>

#include "analysis/explanation.hpp"
#include "report/json_parts.hpp"

namespace plumule::report {

Json explain_json(const analysis::Explanation& entry);
Json explain_list_json(const std::vector<const analysis::Explanation*>& entries);

}  // namespace plumule::report
