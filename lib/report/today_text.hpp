// What the day asks for, as text in walking order.
#pragma once

#include <string>

#include "analysis/due_today.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string today_text(const Style& style, const analysis::DueToday& finding);

}  // namespace plumule::report
