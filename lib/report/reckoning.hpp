// x of n reckoned, as text and as JSON.
#pragma once

#include <string>

#include "analysis/proportion_reckoning.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

std::string reckon_text(const Style& style, const analysis::ProportionReckoning& finding);

// One proportion: its figures at the top. Two: `proportions`, `difference`, `ratio`, `odds_ratio`,
// `tests`, and `intervals` of the first.
std::string reckon_json(const analysis::ProportionReckoning& finding);

}  // namespace plumule::report
