// A group of sowings as JSON, with the promised names.
#pragma once

#include "analysis/summary/group.hpp"
#include "report/parts/json_parts.hpp"

namespace plumule::report {

Json group_json(const analysis::Group& group);

// Parts of it, used by other answers too.
Json stand_json(const analysis::Stand& stand);
Json indices_json(const stats::EmergenceIndices& indices);
Json agreement_json(const std::optional<analysis::Agreement>& agreement);
Json model_json(const stats::EmergenceModel& model);

}  // namespace plumule::report
