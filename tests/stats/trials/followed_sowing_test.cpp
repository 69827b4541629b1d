// The looks of a trial and the rules of a followed sowing.
#include "stats/trials/followed_sowing.hpp"

#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

FollowedSowing sowing(std::vector<DayCount> counts, std::int64_t sown = 20) {
  FollowedSowing made;
  made.sown = sown;
  made.counts = std::move(counts);
  return made;
}

}  // namespace

TEST_CASE("the total is carried forward from look to look") {
  const auto s = sowing({{3, 1}, {6, 4}});
  CHECK(up_by(s, 2) == 0);
  CHECK(up_by(s, 3) == 1);
  CHECK(up_by(s, 5) == 1);
  CHECK(up_by(s, 40) == 4);
}

TEST_CASE("a look is a day on which every sowing still going has a count") {
  std::vector<FollowedSowing> trial{sowing({{3, 0}, {4, 1}, {6, 4}, {8, 5}}),
                                    sowing({{3, 1}, {6, 2}, {8, 2}})};
  CHECK(trial_looks(trial, 100) == std::vector<int>{3, 6, 8});
  CHECK(trial_looks(trial, 7) == std::vector<int>{3, 6});
  // once the second has ended only the first is needed, from the day of the end itself
  trial[1].counts = {{3, 1}};
  trial[1].ended_on = 4;
  CHECK(trial_looks(trial, 100) == std::vector<int>{3, 4, 6, 8});
  // a sowing not yet sown needs no count
  trial.push_back(sowing({{8, 1}}));
  trial[2].sown_on = 6;
  CHECK(trial_looks(trial, 100) == std::vector<int>{3, 4, 6, 8});
  CHECK(trial_looks({}, 100).empty());
}

TEST_CASE("courses that cannot be are refused with their place") {
  const auto refused = [](FollowedSowing s) {
    const std::vector<FollowedSowing> trial{sowing({{1, 0}}), std::move(s)};
    CHECK_THROWS_WITH_AS(check_followed(trial), doctest::Contains("sowing 2"), std::domain_error);
  };
  refused(sowing({{3, 2}, {3, 2}}));
  refused(sowing({{3, 2}, {4, 1}}));
  refused(sowing({{3, 21}}));
  refused(sowing({}, 0));
  auto late = sowing({{3, 1}});
  late.sown_on = 5;
  refused(late);
  auto ended = sowing({});
  ended.sown_on = 5;
  ended.ended_on = 4;
  refused(ended);
  auto early = sowing({});
  early.sown_on = -1;
  refused(early);
}
