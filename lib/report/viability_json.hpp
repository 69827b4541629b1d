// A lot's viability as JSON.
#pragma once

#include "analysis/lot_viability.hpp"
#include "report/json_parts.hpp"

namespace plumule::report {

Json viability_json(const analysis::LotViability& finding);

}  // namespace plumule::report
