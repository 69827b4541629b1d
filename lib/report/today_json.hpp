// What the day asks for, as JSON.
#pragma once

#include "analysis/due_today.hpp"
#include "report/json_parts.hpp"

namespace plumule::report {

Json today_json(const analysis::DueToday& finding);

}  // namespace plumule::report
