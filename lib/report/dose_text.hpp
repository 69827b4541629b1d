// Whether there is a best dose within what was tried, as text.
#pragma once

#include <string>

#include "analysis/dose_answer.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string dose_text(const Style& style, const analysis::DoseAnswer& dose);

}  // namespace plumule::report
