// Many courses folded into one as they come: new counts of the same day added, numbers sown added.
// Its size follows the number of different days, not the number of sowings.
#pragma once

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "stats/times/time_course.hpp"

namespace plumule::analysis {

class CourseFold {
 public:
  void add(const stats::TimeCourse& course);

  // The courses counted as one sowing; units unknown where those of any course are.
  stats::TimeCourse course() const;
  // Emergences between looks of all courses, and those not up where every number sown is known.
  std::vector<stats::Span> spans() const;

  bool empty() const { return courses_ == 0; }
  bool same_looks() const { return same_looks_; }  // all courses were looked at on the same days
  bool all_known() const { return all_known_; }

 private:
  std::size_t courses_ = 0;
  bool all_known_ = true;
  bool same_looks_ = true;
  std::vector<double> first_looks_;
  double sown_ = 0;
  std::map<double, double> new_counts_;                  // by day of look, zeros too
  std::map<std::pair<double, double>, double> emerged_;  // by span
  std::map<std::pair<double, double>, double> not_up_;
};

}  // namespace plumule::analysis
