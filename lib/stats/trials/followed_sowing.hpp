// One sowing as it was followed day by day, on the trial's clock: what the any-day pieces read.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace plumule::stats {

// A look: the total ever up on that day.
struct DayCount {
  int day = 0;
  std::int64_t up = 0;
};

// Days are whole calendar days since the trial's first sowing. Counts come in the order of their
// days, at most one a day (the day's last), never falling, never above `sown`, none before
// `sown_on`.
struct FollowedSowing {
  int sown_on = 0;
  std::int64_t sown = 0;
  std::vector<DayCount> counts;
  std::optional<int>
      ended_on;  // the day it was ended (finished, accident, ...): no look needed after
  int block = 0;
  int unit = -1;  // sowings with the same number were treated together; negative: its own unit
  bool treated = false;  // which of the two treatments compared
};

// Throws std::domain_error, naming the sowing by its place (from 1), unless all of the above holds.
void check_followed(std::span<const FollowedSowing> sowings);

// Total up by the end of that day, the last count carried forward; 0 before the first.
std::int64_t up_by(const FollowedSowing& sowing, int day);

// The days that count as looks of the trial: every sowing that is sown and not ended by then has a
// count of that day, and at least one has. Ascending; none after `until`.
std::vector<int> trial_looks(std::span<const FollowedSowing> sowings, int until);

}  // namespace plumule::stats
