// How many of a group came up, and how many of those stand, in a grower's words.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "analysis/summary/group.hpp"

namespace plumule::report {

bool looked(const analysis::Group& group);
bool nothing_up(const analysis::Group& group);
// Something may still come: some sowing is open, and not all that was sown is up.
bool may_rise(const analysis::Group& group);
// "none yet" while something may still come, "none" where it can't.
std::string none(const analysis::Group& group);
// Of a group of which no units were counted yet.
std::string unlooked(const analysis::Group& group);

// "28 of 30 seeds up (shoots up): 93 %."
std::string came_up(const analysis::Group& group);
// "The true percentage lies between 78 % and 99 % (95 %)."; empty where there is no percentage.
std::string likely(const analysis::Group& group);
// Of those that came_up speaks of, how many stand and were lost; none where no loss was recorded.
struct Standing {
  std::int64_t left = 0;
  std::int64_t lost = 0;
};
std::optional<Standing> standing_of(const analysis::Group& group);
// "8 stand, 20 lost: 27 % (95 %: 13 % to 48 %)."; empty where there is none of that.
std::string standing_words(const analysis::Group& group);
// Which end of the range is the percentage itself, and why; empty where none was moved there.
std::string moved_words(const analysis::Stand& stand);

std::string day_name(double day);
// "45 %", or "45 % to 52 %" where nobody looked on the day itself.
std::string share_by(const analysis::ByDay& by);
std::string by_day_words(const analysis::ByDay& by);

}  // namespace plumule::report
