// When a trial is open, closed as planned, or closed after looking.
#include "stats/trials/trial_closing.hpp"

#include <algorithm>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// Looked at on every day from 1 to `last`, one more up a day from `first` to `first + up - 1`.
FollowedSowing daily(int first, std::int64_t up, int last) {
  FollowedSowing made;
  made.sown = 20;
  for (int day = 1; day <= last; ++day)
    made.counts.push_back({day, std::clamp<std::int64_t>(day - first + 1, 0, up)});
  return made;
}

}  // namespace

TEST_CASE("a trial is open to its planned day, then closed as planned") {
  const std::vector<FollowedSowing> trial{daily(4, 5, 9), daily(5, 4, 9)};
  CHECK(trial_closing(trial, 9, 20, std::nullopt).state == TrialState::open);
  CHECK(trial_closing(trial, 19, 20, std::nullopt).state == TrialState::open);
  CHECK(trial_closing(trial, 20, 20, 30).state == TrialState::open);  // that day's look may come
  auto counted = trial;
  for (auto& sowing : counted) sowing.counts.push_back({20, sowing.counts.back().up});
  CHECK(trial_closing(counted, 20, 20, 30).by != ClosedBy::nothing);
  counted[0].counts.pop_back();
  CHECK(trial_closing(counted, 20, 20, 30).state == TrialState::open);
  counted[0].ended_on = 20;  // ended that day: no look of it is to come
  CHECK(trial_closing(counted, 20, 20, 30).by != ClosedBy::nothing);
  const auto closed = trial_closing(trial, 21, 20, 30);
  CHECK(closed.state == TrialState::closed_as_planned);
  CHECK(closed.by == ClosedBy::planned_day);
  CHECK(closed.closed_on == 20);
  CHECK(closed.source == PlannedDay::planned);
  CHECK_FALSE(closed.after_looking());
}

TEST_CASE("without a plan the crop's give-up day, else four weeks after the last sowing") {
  std::vector<FollowedSowing> trial{daily(4, 1, 4), daily(4, 1, 4)};
  trial[1].counts.clear();
  trial[1].sown_on = 3;
  const auto crop = trial_closing(trial, 5, std::nullopt, 24);
  CHECK(crop.planned_last_day == 24);
  CHECK(crop.source == PlannedDay::give_up);
  const auto none = trial_closing(trial, 5, std::nullopt, std::nullopt);
  CHECK(none.planned_last_day == 31);
  CHECK(none.source == PlannedDay::four_weeks);
}

TEST_CASE("quiet closes a trial only when something is up everywhere and looks have shown it") {
  // last emergence on day 8: five days needed, so the look of day 13
  std::vector<FollowedSowing> trial{daily(4, 5, 12), daily(5, 4, 12)};
  const auto before = trial_closing(trial, 12, 30, std::nullopt);
  CHECK(before.state == TrialState::open);
  CHECK(before.quiet_since == 8);
  CHECK(before.quiet_days_needed == 5);
  // quiet days without a look prove nothing
  CHECK(trial_closing(trial, 20, 30, std::nullopt).state == TrialState::open);
  trial = {daily(4, 5, 13), daily(5, 4, 13)};
  const auto closed = trial_closing(trial, 20, 30, std::nullopt);
  CHECK(closed.state == TrialState::closed_as_planned);
  CHECK(closed.by == ClosedBy::quiet);
  CHECK(closed.closed_on == 13);
  // one sowing with nothing up keeps it open
  trial.push_back(daily(40, 1, 13));
  CHECK(trial_closing(trial, 20, 30, std::nullopt).state == TrialState::open);
}

TEST_CASE("slow crops need a longer quiet: half the days to the last emergence") {
  // last emergence on day 17: nine days (8.5 rounded up), so day 26
  const std::vector<FollowedSowing> trial{daily(14, 4, 25), daily(12, 3, 25)};
  const auto open = trial_closing(trial, 25, 60, std::nullopt);
  CHECK(open.quiet_days_needed == 9);
  CHECK(open.state == TrialState::open);
  const std::vector<FollowedSowing> longer{daily(14, 4, 26), daily(12, 3, 26)};
  CHECK(trial_closing(longer, 26, 60, std::nullopt).closed_on == 26);
}

TEST_CASE("ended by hand before its day is closed after looking") {
  std::vector<FollowedSowing> trial{daily(4, 5, 9), daily(5, 4, 9)};
  trial[0].ended_on = 9;
  CHECK(trial_closing(trial, 12, 20, std::nullopt).state == TrialState::open);
  trial[1].ended_on = 10;
  const auto closed = trial_closing(trial, 12, 20, std::nullopt);
  CHECK(closed.state == TrialState::closed_after_looking);
  CHECK(closed.by == ClosedBy::hand);
  CHECK(closed.closed_on == 10);
  CHECK(closed.after_looking());
  CHECK(trial_closing(trial, 9, 20, std::nullopt).state == TrialState::open);
  // still so when the planned day has passed since
  CHECK(trial_closing(trial, 25, 20, std::nullopt).state == TrialState::closed_after_looking);
  // ended once it had been quiet long enough is as planned
  std::vector<FollowedSowing> quiet{daily(4, 5, 13), daily(5, 4, 13)};
  quiet[0].ended_on = quiet[1].ended_on = 13;
  CHECK(trial_closing(quiet, 14, 20, std::nullopt).by == ClosedBy::quiet);
}

TEST_CASE("sowings added after the first count are seen, and labels are not") {
  std::vector<FollowedSowing> trial{daily(4, 5, 9), daily(5, 4, 9)};
  CHECK_FALSE(trial_closing(trial, 9, 20, std::nullopt).added_after_looking);
  FollowedSowing added;
  added.sown = 20;
  added.sown_on = 2;
  trial.push_back(added);
  const auto with = trial_closing(trial, 9, 20, std::nullopt);
  CHECK(with.added_after_looking);
  CHECK(with.after_looking());
  for (auto& s : trial) s.treated = !s.treated;
  const auto turned = trial_closing(trial, 9, 20, std::nullopt);
  CHECK(turned.state == with.state);
  CHECK(turned.added_after_looking);
}

TEST_CASE("one seedling is something up, and the day's own look shows what is new") {
  const std::vector<FollowedSowing> trial{daily(8, 1, 13), daily(8, 1, 13)};
  CHECK(trial_closing(trial, 8, 30, std::nullopt).quiet_since == 8);
  CHECK(trial_closing(trial, 13, 30, std::nullopt).by == ClosedBy::quiet);
}

TEST_CASE("the earliest look of all is the first, whichever sowing it is of") {
  std::vector<FollowedSowing> trial{daily(4, 5, 9), daily(6, 4, 9)};
  auto& later = trial[1];
  later.sown_on = 3;
  std::erase_if(later.counts, [](const auto& count) { return count.day < 5; });
  CHECK(trial_closing(trial, 9, 20, std::nullopt).added_after_looking);
  std::swap(trial[0], trial[1]);
  CHECK(trial_closing(trial, 9, 20, std::nullopt).added_after_looking);
  // Sown on the day of the first look is not after it.
  trial[0].sown_on = 1;
  CHECK_FALSE(trial_closing(trial, 9, 20, std::nullopt).added_after_looking);
}

TEST_CASE("plans that cannot be are refused") {
  std::vector<FollowedSowing> trial{daily(4, 5, 9)};
  trial[0].sown_on = 1;
  CHECK_THROWS_AS(trial_closing(trial, 9, 0, std::nullopt), std::domain_error);
  CHECK_THROWS_AS(trial_closing(trial, 9, std::nullopt, 0), std::domain_error);
  CHECK_THROWS_AS(trial_closing({}, 9, 20, std::nullopt), std::domain_error);
}
