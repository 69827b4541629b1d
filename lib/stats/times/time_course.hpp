// What was seen of one sowing over time, as pure numbers: units sown, the looks and the running
// totals, and the interval-censored spans that every time-to-emergence method works on.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace plumule::stats {

// One look: days since sowing (fractions allowed) and the units ever up by then.
struct Look {
  double time = 0;
  double total = 0;
};

// One sowing. `sown` none: units unknown, so nothing is known of those that did not come up.
// `never` of the units not up were assessed rotted or empty and can't come up any more; hard, firm
// or not found are not among them (they stay censored at the last look). Courses with the same
// `unit` were treated together (one jar, one heat mat) and are one cluster; negative: its own.
struct TimeCourse {
  std::optional<double> sown;
  std::vector<Look> looks;
  double never = 0;
  int unit = -1;
};

// `count` units came up after `left` and no later than `right` days: (left, right].
// right infinite: not up by `left` (censored there). left and right infinite: never will be.
struct Span {
  double left = 0;
  double right = 0;
  double count = 0;
};

inline constexpr double no_end = std::numeric_limits<double>::infinity();

// Throws std::domain_error unless: times finite, >= 0 and strictly increasing; totals finite, >= 0
// and never falling, 0 at time 0; sown finite and > 0 where known; never finite and >= 0; the last
// total plus never no more than sown.
void check(const TimeCourse& course);

// Units up at the last look, 0 without a look. The last look's time, 0 without a look.
double emerged(const TimeCourse& course);
double last_look(const TimeCourse& course);

// Emergences between looks as (previous look, look], the first from 0; then, where sown is known,
// the rest censored at the last look and the never-emergers at infinity. Counts of 0 are left out.
// Where sown is unknown the never-emergers are left out too. Checks the course.
std::vector<Span> spans_of(const TimeCourse& course);

// The spans of all courses together, equal ones merged, sorted by left then right. If any course
// has sown unknown the pool holds only those that emerged (all_known is false).
struct Pool {
  std::vector<Span> spans;
  double units = 0;       // sum of the counts in spans
  double emerged = 0;     // of them with a finite right end
  double last_look = 0;   // latest look of any course
  bool all_known = true;  // units sown known for every course
};
Pool pool(std::span<const TimeCourse> courses);

// Merges equal spans and sorts them by left then right; leaves out counts of 0.
// Throws std::domain_error unless 0 <= left < right (or both infinite) and 0 <= count < infinity.
std::vector<Span> merged(std::vector<Span> spans);

// The smallest number of points of time such that every span with a finite right end holds one of
// them: how many separate times of emergence the data can tell apart. 0 where nothing emerged.
// With 1 or 2 no time distribution can be fitted (its spread would run to 0).
int separate_times(std::span<const Span> spans);

}  // namespace plumule::stats
