// The rules of a followed sowing and the looks of a trial.
#include "stats/trials/followed_sowing.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

namespace plumule::stats {

void check_followed(std::span<const FollowedSowing> sowings) {
  for (std::size_t i = 0; i < sowings.size(); ++i) {
    const auto& s = sowings[i];
    const auto refuse = [i](const char* why) {
      throw std::domain_error("sowing " + std::to_string(i + 1) + ": " + why);
    };
    if (s.sown_on < 0) refuse("days count from the trial's first sowing and cannot be under 0");
    if (s.sown < 1 || s.sown > 1'000'000'000) refuse("units sown must be 1 to 1000000000");
    if (s.ended_on && *s.ended_on < s.sown_on) refuse("it cannot end before it was sown");
    int day = s.sown_on - 1;
    std::int64_t up = 0;
    for (const auto& count : s.counts) {
      if (count.day <= day) refuse("counts must follow one another in days, none before sowing");
      if (count.up < up) refuse("the total ever up cannot fall");
      if (count.up > s.sown) refuse("more came up than were sown");
      day = count.day;
      up = count.up;
    }
  }
}

std::int64_t up_by(const FollowedSowing& sowing, int day) {
  std::int64_t up = 0;
  for (const auto& count : sowing.counts) {
    if (count.day > day) break;
    up = count.up;
  }
  return up;
}

std::vector<int> trial_looks(std::span<const FollowedSowing> sowings, int until) {
  std::vector<int> days;
  for (const auto& s : sowings)
    for (const auto& count : s.counts)
      if (count.day <= until) days.push_back(count.day);
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  const auto missed = [&sowings](int day) {
    return std::any_of(sowings.begin(), sowings.end(), [day](const FollowedSowing& s) {
      if (s.sown_on >= day || (s.ended_on && *s.ended_on <= day)) return false;
      return !std::binary_search(
          s.counts.begin(), s.counts.end(), DayCount{day, 0},
          [](const DayCount& a, const DayCount& b) { return a.day < b.day; });
    });
  };
  std::erase_if(days, missed);
  return days;
}

}  // namespace plumule::stats
