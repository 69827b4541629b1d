// What is said where a grower's own sowings are too few to tell how alike seeds of one are.
#pragma once

#include <string>

#include "analysis/rho/rho_choice.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// Empty unless own sowings were asked for and some setting has too few.
std::string own_rho_text(const Style& style, const analysis::RhoChoice& choice);

}  // namespace plumule::report
