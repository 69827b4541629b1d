// How long each trial was looked at, and how long something came up in it: what tells whether one
// of its sowings was followed to the end. The one rule, of comparisons and summaries alike.
#pragma once

#include <map>
#include <string>
#include <tuple>

#include "analysis/course/sowing_course.hpp"

namespace plumule::analysis {

class StoppedSowings {
 public:
  // Every sowing of the trials asked about is to be taken before any is judged. Sowings that count
  // other things, or are sown in other units, are trials of their own.
  void take(const records::History& history, const SowingCourse& course);

  // By an accident, or looked at no more, before the others had done: it has no final stand and no
  // final mean days. Which it is does not depend on its treatment. Not stopped are those looked at
  // until the last emergence in their trial, by days since sowing or to the trial's last look by
  // the calendar (a day less is forgiven, but not of one stopped by an accident), those at rest
  // (at_rest), and those not looked at at all.
  bool holds(const records::History& history, const SowingCourse& course) const;

 private:
  // By sowings that no accident stopped.
  struct End {
    double last_emergence = 0;  // day after sowing
    records::Date last_look = records::Date::min();
  };
  using Key = std::tuple<std::string, records::Counting, records::UnitKind>;
  static Key key_of(const records::Sowing& sowing);

  std::map<Key, End> ends_;
};

}  // namespace plumule::analysis
