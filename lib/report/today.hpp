// What the day asks for, as text in walking order and as JSON.
#pragma once

#include <string>

#include "analysis/due_today.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

std::string today_text(const Style& style, const analysis::DueToday& finding);

std::string today_json(const analysis::DueToday& finding);

}  // namespace plumule::report
