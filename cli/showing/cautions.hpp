// The usual cautions where work can hurt somebody, shown with what calls for them
// (bench/cautions.hpp).
#pragma once

#include <vector>

#include "bench/cautions.hpp"
#include "cli/showing/json.hpp"

namespace plumule::cli {

void show_cautions(const Context& context, const std::vector<crops::Caution>& cautions);
Json to_json(const std::vector<crops::Caution>& cautions);

}  // namespace plumule::cli
