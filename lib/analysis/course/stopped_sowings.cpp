#include "analysis/course/stopped_sowings.hpp"

#include <algorithm>
#include <chrono>

namespace plumule::analysis {

StoppedSowings::Key StoppedSowings::key_of(const records::Sowing& sowing) {
  return {sowing.trial, sowing.counting, sowing.unit};
}

void StoppedSowings::take(const records::History& history, const SowingCourse& course) {
  if (course.stopped_early) return;
  End& end = ends_[key_of(history.sowing)];
  end.last_emergence = std::max(end.last_emergence, last_emergence(course.course));
  if (const auto last = last_counted(history)) end.last_look = std::max(end.last_look, *last);
}

bool StoppedSowings::holds(const records::History& history, const SowingCourse& course) const {
  if (!course.looked || at_rest(history, course)) return false;
  const auto at = ends_.find(key_of(history.sowing));
  const End end = at == ends_.end() ? End() : at->second;
  // One sown later is followed as long as any that is looked at on the same last day.
  const auto last = last_counted(history);
  const bool to_the_last =
      !course.stopped_early && last && *last + std::chrono::days(1) >= end.last_look;
  const double missed = end.last_emergence - stats::last_look(course.course);
  return !to_the_last && missed > (course.stopped_early ? 0.0 : 1.0);
}

}  // namespace plumule::analysis
