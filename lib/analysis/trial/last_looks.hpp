// Whether anybody looked near the end at what is compared.
#pragma once

#include <optional>

#include "analysis/trial/layout.hpp"

namespace plumule::analysis {

// The latest look at either treatment, where most sowings of one of them were last looked at before
// the trial's last day (a day less is forgiven) while more could come: what only hurries is ahead
// then, and the days of what comes late are missing. None where both were followed, had come to
// rest or nearly so (stats::nearly_over). Sowings that are in neither the stand nor the days do not
// count; a look that counted seedlings only is none.
std::optional<records::Date> looked_no_further(const TrialLayout& layout, std::size_t treatment,
                                               std::size_t against, records::Date last_day);

}  // namespace plumule::analysis
