// x of n reckoned, as text.
#pragma once

#include <string>

#include "analysis/proportion_reckoning.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string reckon_text(const Style& style, const analysis::ProportionReckoning& finding);

}  // namespace plumule::report
