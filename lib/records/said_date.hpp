// Days and times as a grower says them, and what to answer where one was not said clearly. The days
// that can be read are in date.hpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "records/date.hpp"

namespace plumule::records {

// A moment as written (parse_moment), or a day as said with the time after it or without: "Sat",
// "yesterday 18:00", "11.4. 8:30"; a time alone is today's.
std::optional<Moment> parse_said_moment(std::string_view text, Date today, bool ahead = false);

// A sentence, without its full stop, for a text that is no said date: the days that it can mean,
// where it can mean some ("Mon" on a Monday, "3/4/2026", "1 Sep" in April), else as date_trouble. A
// time of day after it is left aside.
std::string said_date_trouble(std::string_view text, Date today, bool ahead = false);

}  // namespace plumule::records
