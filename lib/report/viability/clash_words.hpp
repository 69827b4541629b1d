// Tests that cannot both be right, in a grower's words: what they gave, what settles it, and what
// to sow by meanwhile.
#pragma once

#include <string>
#include <vector>

#include "analysis/lots/lot_viability.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// These are for a lot whose tests clash: its `clash` is there.
std::string clash_words(const analysis::LotViability& finding);
std::vector<std::string> clash_reasons(const analysis::LotViability& finding);
// Each side with a range of its own: "older test", "newer test", "later test".
std::vector<Figure> clash_figures(const analysis::LotViability& finding);

// Tests left out because the others agree; for any lot.
std::vector<std::string> odd_test_reasons(const analysis::LotViability& finding);

}  // namespace plumule::report
