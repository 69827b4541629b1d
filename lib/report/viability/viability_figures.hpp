// The few figures of a lot that a grower acts on, without a statistician's word, and how they were
// reckoned.
#pragma once

#include <string>
#include <vector>

#include "analysis/lots/lot_viability.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// At most five: what was tested and how long ago, what is alive on the day asked about, what shops
// must reach, when to test again, what is left.
std::vector<Figure> plain_figures(const analysis::LotViability& finding);

// One line: from which tests, carried by what. Empty where nothing was reckoned.
std::string reckoned_from(const analysis::LotViability& finding);

// "12 days ago", "8 weeks ago", "5 years ago".
std::string long_ago(int days);

}  // namespace plumule::report
