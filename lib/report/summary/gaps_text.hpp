// The parts of a summary that allow for the gaps between looks, and the model, for `--full`.
#pragma once

#include <string>

#include "analysis/summary/group.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// All intervals of the stand, agreement of the sowings, days allowing for the gaps, the model: with
// a sentence wherever something can't be told, and why.
std::string gaps_text(const Style& style, const analysis::Group& group);

}  // namespace plumule::report
