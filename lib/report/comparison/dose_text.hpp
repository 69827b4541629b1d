// Whether there is a best dose within what was tried, as text.
#pragma once

#include <string>

#include "analysis/comparison/dose_answer.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

std::string dose_text(const Style& style, const analysis::DoseAnswer& dose);

}  // namespace plumule::report
