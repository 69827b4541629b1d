// A lot's viability as text, within a screen.
#pragma once

#include <string>

#include "analysis/lot_viability.hpp"
#include "report/terminal.hpp"

namespace plumule::report {

std::string viability_text(const Style& style, const analysis::LotViability& finding);

}  // namespace plumule::report
