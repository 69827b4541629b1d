// x of n reckoned, as JSON.
#pragma once

#include "analysis/proportion_reckoning.hpp"
#include "report/json_parts.hpp"

namespace plumule::report {

// One proportion: its figures at the top. Two: `proportions`, `difference`, `ratio`, `odds_ratio`,
// `tests`, and `intervals` of the first.
Json reckon_json(const analysis::ProportionReckoning& finding);
Json tests_json(const std::vector<analysis::SeedLevelTest>& tests);

}  // namespace plumule::report
