// Published time courses, cut off day by day: is more waited for as long as more came? Their
// authors' counts (sources in tests/data/README.md), dish by dish, not drawn from any model of
// ours.
#include <algorithm>
#include <cmath>

#include "stats/emerging/sowing_outlook.hpp"
#include "stats/times/public_courses.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;

namespace {

struct Tally {
  int dishes = 0, given_up = 0, wrong = 0;
};

// The course as it stood at its first so many looks.
TimeCourse cut(const TimeCourse& course, std::size_t looks) {
  TimeCourse made = course;
  made.looks.resize(looks);
  made.never = 0;
  return made;
}

// The middle look of those that came, over the dishes of a group: stands for the published days.
double usual_days(const std::vector<TimeCourse>& dishes) {
  const Pool all = pool(dishes);
  double up = 0;
  for (const Span& span : all.spans) {
    if (!std::isfinite(span.right)) continue;
    up += span.count;
    if (up >= all.emerged / 2) return (span.left + span.right) / 2;
  }
  return 0;
}

// Followed look by look till any more is under 5 %: wrong where any came after. `off`: the days the
// rule is told, over those that were so.
void follow(const std::vector<TimeCourse>& dishes, double off, Tally& tally) {
  const double days = off * usual_days(dishes);
  if (!(days > 0)) return;
  const StandingShare dish(Ground::towel, 0.02);
  // One temperature, held: the clock is known but for what it is told wrongly.
  const EmergenceSpeed speed({{20, days}}, std::nullopt);
  const auto alive = usual_alive();
  for (const auto& course : dishes) {
    if (!(emerged(course) > 0)) continue;
    ++tally.dishes;
    double before = 0;
    for (std::size_t k = 1; k <= course.looks.size(); ++k) {
      const Look& look = course.looks[k - 1];
      const bool news = look.total > before;
      before = look.total;
      if (news) continue;
      const SowingOutlook outlook(cut(course, k), soil_clock(speed, {}, Warmth::not_known), dish);
      if (outlook.any_more(alive) >= hardly_any) continue;
      ++tally.given_up;
      tally.wrong += emerged(course) > look.total ? 1 : 0;
      break;
    }
  }
}

}  // namespace

TEST_CASE("public courses are given up too soon in at most one dish of twenty" *
          doctest::skip(plumule::tests::sanitized)) {
  for (const double off : {0.67, 1.0, 1.5}) {
    Tally tally;
    for (const char* name : {"chickweed", "threecrops", "eryngium", "blackgrass"})
      for (const auto& [group, dishes] : plumule::tests::public_courses(name))
        follow(plumule::tests::group_courses(name, group), off, tally);
    CAPTURE(off);
    CAPTURE(tally.dishes);
    CHECK(tally.dishes > 100);
    // Most were followed by their authors for less long than the rule would have waited.
    CHECK(tally.given_up >= 20);
    CHECK(tally.wrong <= tally.dishes / 20);
  }
}
