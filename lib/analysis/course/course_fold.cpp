#include "analysis/course/course_fold.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::analysis {

void CourseFold::add(const stats::TimeCourse& course) {
  if (courses_ == 0)
    for (const auto& look : course.looks) first_looks_.push_back(look.time);
  const bool same =
      std::equal(first_looks_.begin(), first_looks_.end(), course.looks.begin(), course.looks.end(),
                 [](double day, const stats::Look& look) { return day == look.time; });
  same_looks_ = same_looks_ && same;
  ++courses_;
  all_known_ = all_known_ && course.sown.has_value();
  sown_ += course.sown.value_or(0);

  double before = 0;
  for (const auto& look : course.looks) {
    new_counts_[look.time] += look.total - before;
    before = look.total;
  }
  for (const auto& span : stats::spans_of(course)) {
    auto& where = std::isfinite(span.right) ? emerged_ : not_up_;
    where[{span.left, span.right}] += span.count;
  }
}

stats::TimeCourse CourseFold::course() const {
  stats::TimeCourse result;
  if (all_known_ && courses_ > 0) result.sown = sown_;
  double total = 0;
  for (const auto& [day, count] : new_counts_) {
    total += count;
    result.looks.push_back({day, total});
  }
  return result;
}

std::vector<stats::Span> CourseFold::spans() const {
  std::vector<stats::Span> result;
  for (const auto& [ends, count] : emerged_) result.push_back({ends.first, ends.second, count});
  if (all_known_)
    for (const auto& [ends, count] : not_up_) result.push_back({ends.first, ends.second, count});
  return stats::merged(std::move(result));
}

}  // namespace plumule::analysis
