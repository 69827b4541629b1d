// The day up to which a trial with sowings is followed: the planned one, else what is known of its
// crop, as a comparison takes it.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "records/course.hpp"
#include "records/trial.hpp"

namespace plumule::analysis {

struct LastDay {
  records::Date day{};
  bool planned = false;
  bool too_early = false;                      // the planned one lay before the last sowing
  std::string basis;                           // where none was planned: what the day goes by
  std::optional<records::LastDayMoved> moved;  // changed after the first count: kept as it was
  std::optional<records::Date> last_look;      // of any of its sowings
  std::optional<records::Date> closed_on;
};

// Of the trial's sowings; `trial.moved` as the record has it. Throws std::domain_error for no
// sowings.
LastDay last_day(std::span<const records::History> histories, const records::Trial& trial,
                 records::Date today);

}  // namespace plumule::analysis
