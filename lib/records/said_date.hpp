// What to answer where a day was not said clearly; what can be read is in date.hpp.
#pragma once

#include <string>
#include <string_view>

#include "records/date.hpp"

namespace plumule::records {

// A sentence, without its full stop, for a text that is no said date: the days that it can mean,
// where it can mean some ("Mon" on a Monday, "3/4/2026", "1 Sep" in April), else as date_trouble.
std::string said_date_trouble(std::string_view text, Date today, bool ahead = false);

}  // namespace plumule::records
