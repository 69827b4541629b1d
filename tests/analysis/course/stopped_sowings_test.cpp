// Which sowings of a trial were looked at no more before the others had done.
#include "analysis/course/stopped_sowings.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "analysis/histories.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

// Of a trial whose other sowing last had something new on day 10 and was looked at to day 14.
bool stopped(const records::History& asked, double last_emergence = 10) {
  const auto other = in_trial(
      history("A1", 20, {{6, 5}, {last_emergence, 12}, {std::max(14.0, last_emergence), 12}}),
      "untreated");
  analysis::StoppedSowings trial;
  for (const auto* one : {&other, &asked}) trial.take(*one, analysis::sowing_course(*one));
  return trial.holds(asked, analysis::sowing_course(asked));
}

records::History until(double day) {
  return in_trial(history("A2", 20, {{6, 2}, {day, 8}}), "soak");
}

}  // namespace

TEST_CASE("looked at no more while others still came up is stopped, a day less is forgiven") {
  CHECK(stopped(until(8)));
  CHECK(stopped(until(8.9)));  // 1.1 days before the last emergence
  CHECK_FALSE(stopped(until(9)));
  CHECK_FALSE(stopped(until(10)));
}

TEST_CASE(
    "what an accident stopped is forgiven no day, and what was at rest or never seen is not "
    "stopped") {
  CHECK(stopped(ended(until(9.5), 9, records::EndingKind::accident)));
  CHECK_FALSE(stopped(ended(until(10), 10, records::EndingKind::accident)));
  CHECK_FALSE(stopped(in_trial(history("A2", 20, {{3, 6}, {4, 8}, {9, 8}}), "soak")));
  CHECK_FALSE(stopped(in_trial(history("A2", 20, {}), "soak")));
}

TEST_CASE("who was looked at until the last day of all, or the day before it, is not stopped") {
  // The other came up last, and was looked at last, on day 14, late in the evening.
  CHECK_FALSE(stopped(until(13.2), 14.9));
  CHECK(stopped(until(12.9), 14.9));
}
