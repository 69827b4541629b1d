#include "analysis/comparison/treatment_courses.hpp"

#include "stats/times/emergence_treatments.hpp"
#include "stats/times/look_gaps.hpp"

namespace plumule::analysis {

std::vector<stats::TimeCourse> treatment_courses(const TrialLayout& layout, std::size_t treatment,
                                                 Clock clock, bool stopped_too) {
  std::vector<stats::TimeCourse> result;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment) continue;
    for (const std::size_t i : unit.sowings) {
      const auto& sowing = layout.sowings[i];
      if ((sowing.stopped && !stopped_too) || sowing.course.course.looks.empty()) continue;
      result.push_back(on_clock(sowing.course, clock));
      result.back().unit = static_cast<int>(&unit - layout.units.data());
    }
  }
  return result;
}

std::optional<stats::TimeFamily> likeliest_family(const TrialLayout& layout) {
  std::vector<std::vector<stats::TimeCourse>> all;
  for (std::size_t i = 0; i < layout.treatments.size(); ++i)
    all.push_back(treatment_courses(layout, i, Clock::sowing, true));
  return stats::likeliest_family(all);
}

bool any_uneven(const TrialLayout& layout, std::size_t against) {
  const auto other = treatment_courses(layout, against, Clock::sowing, false);
  for (std::size_t i = 0; i < layout.treatments.size(); ++i)
    if (i != against &&
        stats::look_gaps(treatment_courses(layout, i, Clock::sowing, false), other).uneven)
      return true;
  return false;
}

}  // namespace plumule::analysis
